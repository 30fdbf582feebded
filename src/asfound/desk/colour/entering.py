"""Entering colour readings at the car: a panel or part, a place, three numbers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.colour.forms import ColourForm
from asfound.desk.colour.readings import lines_of_subject
from asfound.desk.colour.subject import (
    Subject,
    parts_of,
    readings_by_panel,
    subject_of,
    with_colour_places,
)
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.observed.keeping import keep_row
from asfound.dossier.figures import panel_svg
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car

_KEPT = ("illuminant", "observer", "instrument", "exposure")
"""What the next reading shares with the last one, until somebody changes it."""
_PARTS_OFFERED = 400


@login_required
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of a panel or part with its form; without one, the list to choose from."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    here = subject_of(request, folder)
    if here is None:
        return show(
            request,
            "colour/choose.html",
            car=car,
            room="survey",
            panels=readings_by_panel(folder),
            parts=parts_of(folder)[:_PARTS_OFFERED],
        )
    of = here.cells
    if request.method == "POST":
        form = ColourForm(request.POST, folder=folder, fixed=of)
        if form.is_valid():
            return _keep(request, car, here, form)
        if is_for_script(request):
            return refused_answer(form)
        return _page(request, car, folder, here, form, status=422)
    initial = {**_last(car, request.user), **_place(request)}
    return _page(request, car, folder, here, ColourForm(initial=initial, folder=folder, fixed=of))


def _told(cells: Mapping[str, str]) -> str:
    return "L* {L}, a* {a}, b* {b}, {exposure}".format_map(cells)


def _keep(request: HttpRequest, car: Car, here: Subject, form: ColourForm) -> HttpResponse:
    cells = keep_row(request, car, form, told=_told)
    again = {**here.cells, "x": cells["x_mm"], "y": cells["y_mm"], "kept": form.cleaned_data["key"]}
    page = reverse("enter-colour", args=(car.slug,))
    return kept_answer(request, f"{page}?{urlencode(again)}")


def _last(car: Car, user: Any) -> dict[str, str]:
    """How this person's last reading was viewed; else how anybody's was."""
    readings = car.observations.current().filter(table="colour").order_by("-pk")
    last = readings.filter(entered_by=user).first() or readings.first()
    return {name: last.cells.get(name, "") for name in _KEPT} if last else {}


def _place(request: HttpRequest) -> dict[str, str]:
    return {f"{axis}_mm": request.GET[axis][:20] for axis in ("x", "y") if axis in request.GET}


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    here: Subject,
    form: ColourForm,
    *,
    status: int = 200,
) -> HttpResponse:
    figure = ""
    if here.kind == "panel":
        figure = panel_svg(with_colour_places(folder), None, here.name)
    return show(
        request,
        "colour/enter.html",
        status=status,
        car=car,
        room="survey",
        here=here,
        entry=form,
        figure=figure,
        instruments=_instruments(folder),
        **lines_of_subject(car, here.kind, here.name),
    )


def _instruments(folder: CarFolder) -> list[str]:
    known = [
        row.text("instrument")
        for row in folder.sheet("instruments")
        if row.text("kind") == "colour"
    ]
    used = [row.text("instrument") for row in folder.sheet("colour")]
    return [name for name in dict.fromkeys([*known, *used]) if name]
