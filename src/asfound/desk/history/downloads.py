"""The history to keep: the timeline and what is computed."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.observed.files import as_file
from asfound.dossier.figures import timeline_svg
from asfound.exchange import json_bytes
from asfound.record.convert.stored import folder_of
from asfound.record.derived import history_reading, weighed_evidence
from asfound.record.results.history import history_json


@login_required
@require_GET
def svg(request: HttpRequest, slug: str) -> HttpResponse:
    """Timeline as a picture with its own colours."""
    folder = folder_of(open_car(request, slug))
    try:
        picture = timeline_svg(folder, history_reading(folder), theme="print")
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(picture.encode(), "image/svg+xml", f"{slug}-timeline.svg")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound history --json`` prints."""
    folder = folder_of(open_car(request, slug))
    try:
        told = history_json(history_reading(folder), weighed_evidence(folder), folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(json_bytes(told), "application/json", f"{slug}-history.json")
