"""The whole stock as open tables."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import refuse_readers
from asfound.desk.observed.files import as_file
from asfound.exchange import csv_bytes
from asfound.exchange.stock import stock_sheet, stock_zip
from asfound.record.tables.salvage import STOCK_TABLES


@login_required
@require_GET
def csv(request: HttpRequest, table: str) -> HttpResponse:
    """One table of the stock."""
    refuse_readers(request)
    name = table.replace("-", "_")
    if name not in STOCK_TABLES:
        raise Http404(table)
    return as_file(csv_bytes(stock_sheet(name)), "text/csv; charset=utf-8", f"{name}.csv")


@login_required
@require_GET
def whole(request: HttpRequest) -> HttpResponse:
    """The tables with what describes them, as one file."""
    refuse_readers(request)
    return as_file(stock_zip(), "application/zip", "salvage.zip")
