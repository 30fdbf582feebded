"""The polishing to keep: pictures, readings, and what they say."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.observed.files import as_file, table_as_file
from asfound.desk.polish.page import asked_chance
from asfound.dossier.figures import wedge_svg
from asfound.exchange import json_bytes
from asfound.record.convert.stored import folder_of
from asfound.record.derived import polish_reading
from asfound.record.results.polish import polish_json


@login_required
@require_GET
def svg(request: HttpRequest, slug: str, panel: str) -> HttpResponse:
    """Wedge map of a panel as a picture with its own colours."""
    folder = folder_of(open_car(request, slug))
    try:
        result = polish_reading(folder)
        if panel not in {area.panel for area in result.areas}:
            raise Http404(panel)
        picture = wedge_svg(folder, result, panel, theme="print")
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(picture.encode(), "image/svg+xml", f"{slug}-{slugify(panel)}-wedges.svg")


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Every reading that counts, as the car folder has it."""
    return table_as_file(folder_of(open_car(request, slug)), "polish", f"{slug}-polish.csv")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound polish --json`` prints, at the asked chance."""
    folder = folder_of(open_car(request, slug))
    _, asked = asked_chance(request)
    try:
        told = polish_json(polish_reading(folder, stay_probability=asked))
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(json_bytes(told), "application/json", f"{slug}-polish.json")
