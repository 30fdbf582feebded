"""Errands to keep: tables, and the papers as they came."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car_to_write, refuse_readers
from asfound.desk.observed.files import as_file, table_as_file
from asfound.exchange import csv_bytes, json_bytes
from asfound.record.actions import open_kept_file
from asfound.record.actions.errand import papers_of
from asfound.record.convert.errands import errand_of
from asfound.record.convert.stored import folder_of
from asfound.record.folder import PAPER_FOLDER, Sheet
from asfound.record.models import Observation
from asfound.record.reads import cars_for
from asfound.record.tables import TABLES

_CSV = "text/csv; charset=utf-8"
_TYPES = {".pdf": "application/pdf", ".jpg": "image/jpeg", ".png": "image/png"}


@login_required
@require_GET
def csv_of_car(request: HttpRequest, slug: str) -> HttpResponse:
    """Errands as the car folder has them; prices are the workshop's."""
    car = open_car_to_write(request, slug)
    return table_as_file(folder_of(car), "errands", f"{slug}-errands.csv")


@login_required
@require_GET
def json_of_car(request: HttpRequest, slug: str) -> HttpResponse:
    """Errands with how long each is out and how many days are left."""
    car = open_car_to_write(request, slug)
    today = timezone.localdate()
    rows = car.observations.current().filter(table="errands")
    told = [_as_json(row, today) for row in rows]
    data = json_bytes({"on": today.isoformat(), "errands": told})
    return as_file(data, "application/json", f"{slug}-errands.json")


@login_required
@require_GET
def csv_of_workshop(request: HttpRequest) -> HttpResponse:
    """Errands of all cars in one table."""
    refuse_readers(request)
    columns = [column.name for column in TABLES["errands"].columns]
    rows = Observation.objects.current().filter(car__in=cars_for(request.user), table="errands")
    found = rows.order_by("car__slug", "position").values_list("car__slug", "cells")
    sheet = Sheet(
        columns=("car", *columns),
        rows=tuple(
            (slug, *(str(cells.get(name, "")) for name in columns)) for slug, cells in found
        ),
    )
    return as_file(csv_bytes(sheet), _CSV, "errands.csv")


@login_required
@require_GET
def paper(request: HttpRequest, slug: str, pk: int, name: str) -> HttpResponse | FileResponse:
    """A paper as it came; for the workshop alone."""
    car = open_car_to_write(request, slug)
    errand = car.observations.filter(pk=pk, table="errands").first()
    path = f"{PAPER_FOLDER}/{name}"
    kept = car.kept_files.filter(path=path).first()
    if errand is None or kept is None or path not in papers_of(errand):
        raise Http404(name)
    try:
        stream = open_kept_file(kept)
    except (OSError, ValueError):
        raise Http404(name) from None
    suffix = f".{name.rpartition('.')[2]}"
    answer = FileResponse(
        stream,
        as_attachment=True,
        filename=name,
        content_type=_TYPES.get(suffix, "application/octet-stream"),
    )
    answer["Cache-Control"] = "private, no-store"
    return answer


def _as_json(row: Observation, today: Any) -> dict[str, Any]:
    errand = errand_of(row.cells, today=today)
    return {
        **{name: cell for name, cell in row.cells.items() if cell},
        "out": errand.is_out,
        "overdue": errand.is_overdue,
        "days_out": errand.days_out,
        "days_left": errand.days_left,
    }
