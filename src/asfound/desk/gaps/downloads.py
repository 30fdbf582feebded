"""The gaps to keep: pictures, readings, and what they say."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.observed.files import as_file, table_as_file
from asfound.dossier.figures import edge_svg
from asfound.exchange import json_bytes
from asfound.record.convert.stored import folder_of
from asfound.record.derived import gaps_reading
from asfound.record.results.gaps import gaps_json


@login_required
@require_GET
def svg(request: HttpRequest, slug: str, edge: str) -> HttpResponse:
    """An edge and its twin as a picture with its own colours."""
    folder = folder_of(open_car(request, slug))
    try:
        picture = edge_svg(gaps_reading(folder), edge, theme="print")
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(picture.encode(), "image/svg+xml", f"{slug}-{slugify(edge)}.svg")


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Every reading that counts, as the car folder has it."""
    return table_as_file(folder_of(open_car(request, slug)), "gaps", f"{slug}-gaps.csv")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound gaps --json`` prints."""
    folder = folder_of(open_car(request, slug))
    try:
        told = gaps_json(gaps_reading(folder))
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(json_bytes(told), "application/json", f"{slug}-gaps.json")
