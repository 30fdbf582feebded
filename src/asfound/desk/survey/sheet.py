"""The survey map: the unfolded sheet, the panels in words, where to measure next."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show, wants_whole
from asfound.desk.survey.beside import beside
from asfound.desk.survey.drawn import drawn_sheet
from asfound.desk.survey.finish import read_finish
from asfound.desk.survey.lines import level_u95_um, panel_lines, spot_lines
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.film import TWO_SIDED

SPOTS_SHOWN = 600
"""Twice what a thorough survey of one car takes; the file has them all."""


@login_required
@require_GET
def survey(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the survey; the map fills itself in."""
    car = open_car(request, slug)
    folder = folder_of(car)
    film = folder.sheet("film")
    context: dict[str, Any] = {
        "readings_n": len(film),
        "measured_n": len({row.text("panel") for row in film}),
        "panels_n": len(folder.sheet("panels")) or len({row.text("panel") for row in film}),
    }
    if wants_whole(request):
        context |= _map_or_refusal(car, folder)
    return show(request, "survey/map.html", car=car, room="survey", **context)


@login_required
@require_GET
def survey_map(request: HttpRequest, slug: str) -> HttpResponse:
    """The map itself with its lists, as a fragment of the page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('survey', args=(slug,))}?whole=1")
    car = open_car(request, slug)
    return show(request, "survey/_map.html", car=car, **_map_or_refusal(car, folder_of(car)))


def _map_or_refusal(car: Car, folder: CarFolder) -> dict[str, Any]:
    """The reading of the finish on its sheet; what cannot be made says why."""
    try:
        reading = read_finish(folder)
    except AsfoundError as error:
        return {
            "shown": True,
            "refusal": str(error),
            "sheet": _bare_sheet(car, folder),
            "panels": [row.text("panel") for row in folder.sheet("panels")],
            "beside": beside(car, folder, None),
        }
    try:
        sheet = drawn_sheet(car, folder, reading)
    except AsfoundError as error:
        sheet, fault = "", str(error)
    else:
        fault = ""
    return {
        "shown": True,
        "fault": fault,
        "reading": reading,
        "sheet": sheet,
        "panel_lines": panel_lines(reading),
        "spots": spot_lines(reading)[:SPOTS_SHOWN],
        "level_u95": level_u95_um(reading),
        "next_spots": reading.next_spots,
        "beside": beside(car, folder, reading),
        "two_sided": TWO_SIDED,
    }


def _bare_sheet(car: Car, folder: CarFolder) -> str:
    try:
        return drawn_sheet(car, folder, None)
    except AsfoundError:
        return ""
