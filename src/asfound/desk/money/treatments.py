"""The workshop's own table of treatments, from which options are offered to every car."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.money.opened import check_head
from asfound.desk.tables import grid
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.told import heading, told
from asfound.record.actions.money import set_treatments
from asfound.record.convert.trades import USUAL
from asfound.record.folder import CarFolder
from asfound.record.reads.money import money_settings
from asfound.record.tables import Column

CONFLICT, FAULTY = 409, 422
_TABLE = "treatment_rates"
_SPARE: list[grid.Cells] = [{} for _ in range(grid.SPARE_ROWS)]


@login_required
@require_http_methods(["GET", "POST"])
def treatments(request: HttpRequest) -> HttpResponse:
    """Page of the table, for the head alone; kept as a whole, or told by row why it cannot be."""
    check_head(request)
    now = money_settings()
    rows = now.treatment_rates
    trades = tuple(row["trade"] for row in now.charge_rates) or USUAL
    columns = grid.columns_of(_TABLE, rows, trades=tuple(dict.fromkeys(trades)))
    if request.method == "POST":
        return _take(request, columns)
    return _page(request, columns, [*rows, *_SPARE], seen=grid.as_seen(rows))


def _take(request: HttpRequest, columns: tuple[Column, ...]) -> HttpResponse:
    typed = grid.typed_rows(request.POST, columns)
    seen = request.POST.get("seen", "")
    if request.POST.get("step") == "more":
        return _page(request, columns, [*typed, *_SPARE], seen=seen)
    checked = check_rows(typed, columns, table=_TABLE, folder=CarFolder())
    if checked.faults:
        return _page(request, columns, typed, seen=seen, faults=checked.faults, status=FAULTY)
    try:
        set_treatments(rows=checked.rows, seen=grid.from_seen(seen) or [], by=request.user)
    except InputError as error:
        return _page(request, columns, typed, seen=seen, refusal=error, status=CONFLICT)
    count = len(checked.rows)
    messages.success(request, f"Kept: {count} row{'' if count == 1 else 's'}.")
    return redirect("treatments")


def _page(
    request: HttpRequest,
    columns: tuple[Column, ...],
    rows: list[grid.Cells],
    *,
    faults: tuple[Any, ...] = (),
    **more: Any,
) -> HttpResponse:
    return show(
        request,
        "money/treatments.html",
        told=told(_TABLE),
        columns=[(column, heading(column)) for column in columns],
        lines=grid.lines(rows, columns, _TABLE, faults=faults),
        faults=faults,
        whole_faults=[fault for fault in faults if not fault.row],
        **more,
    )
