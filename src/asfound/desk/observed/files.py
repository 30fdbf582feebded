"""Files that a page gives away."""

from __future__ import annotations

from django.http import Http404, HttpResponse

from asfound.dossier.pictures import on_paper
from asfound.exchange import csv_bytes
from asfound.record.folder import CarFolder

PICTURES = {"svg": "image/svg+xml", "png": "image/png", "pdf": "application/pdf"}
"""Kinds of pictures, by how their names end."""
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
"""Kind of a spreadsheet."""


def as_file(data: bytes, kind: str, name: str) -> HttpResponse:
    """Answer that a browser saves under a name; a drawing stands on a ground of its own."""
    if kind == PICTURES["svg"]:
        data = on_paper(data.decode()).encode()
    return HttpResponse(
        data,
        content_type=kind,
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


def table_as_file(folder: CarFolder, table: str, name: str) -> HttpResponse:
    """Every row of a table that counts, as the car folder has it."""
    if table not in folder.sheets:
        raise Http404(f"the car has no {table}.csv")
    return as_file(csv_bytes(folder.sheet(table)), "text/csv; charset=utf-8", name)
