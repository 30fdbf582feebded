"""Moving the limits of the brief."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.decisions.both_briefs import compare
from asfound.desk.decisions.forms import BriefForm, initial_of_brief
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.record.actions import NO_BRIEF, set_brief
from asfound.record.convert.stored import folder_of
from asfound.record.faults import ChangedMeanwhileError
from asfound.record.folder import CarFolder
from asfound.record.models import Brief, Car

_HOURS = "hours_"


@login_required
@require_http_methods(["GET", "POST"])
def edit_brief(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of the brief; each change is kept beside those before it."""
    car = open_car_to_write(request, slug)
    now = car.briefs.select_related("by").last()
    before = _seen(car, request.POST.get("seen", "")) if request.method == "POST" else now
    form = _form(car, before, now, data=request.POST or None)
    if form.is_valid():
        try:
            content = form.content(_content(now))
            set_brief(car=car, content=content, by=request.user, seen=_key(before))
        except ChangedMeanwhileError:
            return _both(request, car, before, form)
        set_totals_aside(request, car)
        messages.success(request, "The brief is kept; the choice below follows it.")
        return redirect("decisions", slug)
    status = 422 if form.errors else 200
    return _page(request, car, form, seen=_key(before), status=status)


def _both(request: HttpRequest, car: Car, before: Brief | None, mine: BriefForm) -> HttpResponse:
    """Refusal with both versions, and a form in which they are joined."""
    now = car.briefs.select_related("by").last()
    typed = initial_of_brief(mine.content({}))
    told = compare(
        mine,
        before=initial_of_brief(_content(before)),
        theirs=initial_of_brief(_content(now)),
        mine=typed,
    )
    joined = {**typed, **{name: line.joined for name, line in told.items()}}
    form = _form(car, before, now, initial=joined)
    return _page(request, car, form, seen=_key(now), status=409, told=told, now=now, mine=typed)


def _page(
    request: HttpRequest, car: Car, form: BriefForm, *, seen: int, status: int, **context: Any
) -> HttpResponse:
    return show(
        request,
        "decisions/brief.html",
        status=status,
        car=car,
        room="decisions",
        form=form,
        seen=seen,
        **context,
    )


def _form(car: Car, before: Brief | None, now: Brief | None, **given: Any) -> BriefForm:
    folder, known = folder_of(car), (_content(now), _content(before))
    given.setdefault("initial", initial_of_brief(_content(now)))
    return BriefForm(
        trades=_trades(folder, known), zones=_zones(folder, known), currency=car.currency, **given
    )


def _seen(car: Car, key: str) -> Brief | None:
    """The brief that the sender had before them."""
    return car.briefs.filter(pk=int(key)).first() if key.isdecimal() and len(key) < 19 else None


def _key(brief: Brief | None) -> int:
    return NO_BRIEF if brief is None else brief.pk


def _content(brief: Brief | None) -> dict[str, Any]:
    return dict(brief.content or {}) if brief else {}


def _trades(folder: CarFolder, briefs: tuple[Mapping[str, Any], ...]) -> list[str]:
    """Trades that the options or a brief name."""
    columns = folder.sheet("options").columns
    named = [column.removeprefix(_HOURS) for column in columns if column.startswith(_HOURS)]
    limited = [name for brief in briefs for name in brief.get("hours_max") or {}]
    return list(dict.fromkeys([*named, *limited]))


def _zones(folder: CarFolder, briefs: tuple[Mapping[str, Any], ...]) -> list[str]:
    """Zones that the subjects or a brief name."""
    named = [row.text("zone") for row in folder.sheet("subjects") if row.text("zone")]
    limited = [name for brief in briefs for name in brief.get("min_grade") or {}]
    return list(dict.fromkeys([*named, *limited]))
