"""The colour to keep: picture, readings, and what they tell."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.colour.both import film_beside
from asfound.desk.observed.files import as_file, table_as_file
from asfound.dossier.figures import seams_svg
from asfound.exchange import json_bytes
from asfound.record.convert.stored import folder_of
from asfound.record.derived import colour_reading
from asfound.record.results.colour import colour_json


@login_required
@require_GET
def svg(request: HttpRequest, slug: str) -> HttpResponse:
    """The sheet with its seams as a picture with its own colours."""
    folder = folder_of(open_car(request, slug))
    try:
        groups = colour_reading(folder).groups
        picture = seams_svg(folder, groups[0], theme="print")
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(picture.encode(), "image/svg+xml", f"{slug}-seams.svg")


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Every reading that counts, as the car folder has it."""
    folder = folder_of(open_car(request, slug))
    return table_as_file(folder, "colour", f"{slug}-colour.csv")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """The reading of the colour as ``asfound colour --json`` prints it."""
    folder = folder_of(open_car(request, slug))
    try:
        reading = colour_reading(folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
    told = colour_json(reading, folder, both=film_beside(folder, reading))
    return as_file(json_bytes(told), "application/json", f"{slug}-colour.json")
