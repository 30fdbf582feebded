"""The sheet metal to keep: readings and result."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.exchange import csv_bytes, json_bytes
from asfound.record.convert.stored import folder_of
from asfound.record.derived import metal_reading
from asfound.record.results.metal import metal_json


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Every reading that counts, as the car folder has it."""
    folder = folder_of(open_car(request, slug))
    if "metal" not in folder.sheets:
        raise Http404("the car has no metal.csv")
    data = csv_bytes(folder.sheet("metal"))
    return _file(data, "text/csv; charset=utf-8", f"{slug}-metal.csv")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """The result as ``asfound metal --json`` prints it."""
    folder = folder_of(open_car(request, slug))
    try:
        result = metal_json(metal_reading(folder), folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return _file(json_bytes(result), "application/json", f"{slug}-metal.json")


def _file(data: bytes, kind: str, name: str) -> HttpResponse:
    return HttpResponse(
        data,
        content_type=kind,
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
