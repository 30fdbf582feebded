"""What the workshop's own cars let expect of this one, and whether this one is among them."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError, Estimate, InputError
from asfound.desk.access import may_write, open_car, refuse_readers, show
from asfound.desk.survey.band_forms import ConsentForm, ReasonForm
from asfound.desk.survey.expected import expectation
from asfound.desk.survey.finish import read_finish
from asfound.record.actions import contribute_film_build, withdraw_film_build
from asfound.record.convert.stored import folder_of
from asfound.record.convert.years import built_years, middle_year
from asfound.record.models import Car
from asfound.record.reads import build_given, builds_gone, film_builds

_CARS_A_PAGE = 50
_KINDS_OFFERED = 50
_NORMAL_95 = 1.96


@login_required
@require_http_methods(["GET", "POST"])
def film_base(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the base for one car; its owner sees their own consent, not other people's cars."""
    car = open_car(request, slug)
    level = _level(car)
    step = request.POST.get("step")
    if step:
        refuse_readers(request)
    form = ConsentForm(request.POST if step == "give" else None, initial=_initial(car))
    withdraw = ReasonForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    said = _change(request, car, level, form, withdraw)
    if said:
        messages.success(request, said)
        return redirect("film-base", slug)
    return show(
        request,
        "survey/film_base.html",
        status=422 if step else 200,
        car=car,
        room="survey",
        level=level,
        level_u95=level.expanded(coverage=0.95) if level else None,
        year=middle_year(built_years(car.built)),
        expected=expectation(car, level, kind=request.GET.get("kind", "").strip()[:120]),
        given=build_given(car),
        gone=builds_gone(car)[:_CARS_A_PAGE],
        form=form,
        withdraw=withdraw,
        **(_others(request, car) if may_write(request) else {}),
    )


def _change(
    request: HttpRequest,
    car: Car,
    level: Estimate | None,
    form: ConsentForm,
    withdraw: ReasonForm,
) -> str:
    """Words on what was done; empty where nothing was, with the forms telling why."""
    try:
        if form.is_valid():
            _give(car, level, request.user, **form.cleaned_data)
            return "The car's level is in the base, with the owner's consent."
        if withdraw.is_valid():
            withdraw_film_build(car=car, by=request.user, **withdraw.cleaned_data)
            return "The car is out of the base; what it gave is kept, struck through."
    except InputError as error:
        (form if form.is_bound else withdraw).add_error(None, str(error))
    return ""


def _give(car: Car, level: Estimate | None, by: Any, **given: Any) -> None:
    year = middle_year(built_years(car.built))
    if level is None or year is None:
        raise InputError(
            field="car",
            got=str(car),
            allowed="one with readings of its finish and a year built",
        )
    contribute_film_build(car=car, year=year, level_um=level, by=by, **given)


def _level(car: Car) -> Estimate | None:
    try:
        return read_finish(folder_of(car)).level_um
    except AsfoundError:
        return None


def _initial(car: Car) -> dict[str, Any]:
    given = build_given(car)
    return {"kind": given.kind if given else car.body_style, "consent_on": timezone.localdate()}


def _others(request: HttpRequest, car: Car) -> dict[str, Any]:
    """The cars that the expectation rests on, a page at a time."""
    rows = film_builds().exclude(car=car)
    page = Paginator(rows, _CARS_A_PAGE).get_page(request.GET.get("page"))
    kinds = film_builds().order_by("kind").values_list("kind", flat=True).distinct()
    lines = [{"row": row, "u95_um": _NORMAL_95 * row.u_log * row.level_um} for row in page]
    return {"page": page, "lines": lines, "kinds": kinds[:_KINDS_OFFERED]}
