"""What the colour of a car tells: by light and observer, on the sheet and as tables."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import may_write, open_car, show, wants_whole
from asfound.desk.colour.both import film_beside
from asfound.desk.colour.groups import both_lines, group_view
from asfound.desk.colour.readings import lines_of_car
from asfound.measure.colour import CarColour
from asfound.record.convert.colour import instrument_doubt, thresholds_of
from asfound.record.convert.neighbours import neighbours_of
from asfound.record.convert.stored import folder_of
from asfound.record.derived import colour_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.colour_words import ASSUMPTION, DISAGREE
from asfound.weigh import SCALE


@login_required
@require_GET
def colour(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the colour; film beside colour fills itself in."""
    car = open_car(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"car": car, "room": "survey", **lines_of_car(car)}
    if not len(folder.sheet("colour")):
        return show(request, "colour/page.html", **context)
    try:
        reading = colour_reading(folder)
    except AsfoundError as error:
        return show(request, "colour/page.html", refusal=str(error), **context)
    if wants_whole(request):
        context |= _beside(folder, reading)
    context |= _told(request, car, folder, reading)
    return show(request, "colour/page.html", **context)


@login_required
@require_GET
def with_film(request: HttpRequest, slug: str) -> HttpResponse:
    """Film beside colour, as a fragment of the page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('colour', args=(slug,))}?whole=1")
    car = open_car(request, slug)
    folder = folder_of(car)
    beside = _beside(folder, colour_reading(folder)) if len(folder.sheet("colour")) else {}
    return show(request, "colour/_with_film.html", car=car, **beside)


def _beside(folder: CarFolder, reading: CarColour) -> dict[str, Any]:
    return {
        "is_beside": True,
        "both": both_lines(film_beside(folder, reading)),
        "assumption": ASSUMPTION,
        "scale": SCALE,
    }


def _told(request: HttpRequest, car: Car, folder: CarFolder, reading: CarColour) -> dict[str, Any]:
    writes = may_write(request)
    return {
        "groups": [group_view(g, car, folder, may_write=writes) for g in reading.groups],
        "has_signs": any(group.signs for group in reading.groups),
        "doubt": instrument_doubt(folder),
        "is_proposed": neighbours_of(folder).proposed,
        "thresholds": thresholds_of(folder),
        "own_thresholds": bool(len(folder.sheet("colour_thresholds"))),
        "disagree": DISAGREE,
        "scale": SCALE,
    }
