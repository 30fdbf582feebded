"""One small table: seen by whoever may see the car, edited by the workshop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import NoReverseMatch, reverse
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import InputError
from asfound.desk.access import may_write, open_car, person_of, refuse_readers, show
from asfound.desk.tables import grid
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.fault_words import in_words
from asfound.desk.tables.told import told
from asfound.record.actions import EDITED_WHOLE, rows_of_sheets, set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.convert.trades import trades_of
from asfound.record.faults import Fault
from asfound.record.models import Car
from asfound.record.tables import Column
from asfound.record.tables.money import RATES
from asfound.record.tables.words import heading

CONFLICT, FAULTY = 409, 422
Rows = Sequence[Mapping[str, str]]


@login_required
@require_GET
def tables(request: HttpRequest, slug: str) -> HttpResponse:
    """List of the small tables with how many rows each has."""
    car = open_car(request, slug)
    names = _shown_to(request)
    rows_n = rows_of_sheets(car, names)
    listed = [(name, told(name), rows_n.get(name, 0)) for name in names]
    return show(request, "tables/list.html", car=car, room="survey", listed=listed)


@login_required
@require_http_methods(["GET", "POST"])
def table(request: HttpRequest, slug: str, table: str) -> HttpResponse:
    """Page of one table; kept as a whole, or told by row why it cannot be."""
    if table not in _shown_to(request):
        raise Http404(table)
    car = open_car(request, slug)
    rows = sheet_rows(car, table)
    columns = grid.columns_of(table, rows, trades=trades_of(folder_of(car)))
    if request.method == "POST":
        refuse_readers(request)
        return _take(request, car, table, columns)
    too_many = len(rows) > grid.most_rows(columns)
    shown = rows if not may_write(request) or too_many else [*rows, *_spare()]
    return _page(request, car, table, columns, shown, seen=grid.as_seen(rows), too_many=too_many)


def _shown_to(request: HttpRequest) -> tuple[str, ...]:
    """Small tables that the person may look at; the rates are the head's."""
    person = person_of(request)
    if person is not None and person.is_head:
        return EDITED_WHOLE
    return tuple(name for name in EDITED_WHOLE if name not in RATES)


def _spare() -> list[dict[str, str]]:
    return [{} for _ in range(grid.SPARE_ROWS)]


def _take(request: HttpRequest, car: Car, table: str, columns: tuple[Column, ...]) -> HttpResponse:
    typed = grid.typed_rows(request.POST, columns)
    seen = request.POST.get("seen", "")
    if request.POST.get("step") == "more":
        return _page(request, car, table, columns, [*typed, *_spare()], seen=seen)
    checked = check_rows(typed, columns, table=table, folder=folder_of(car))
    if checked.faults:
        return _page(
            request, car, table, columns, typed, seen=seen, faults=checked.faults, status=FAULTY
        )
    try:
        set_sheet(
            car=car,
            table=table,
            rows=checked.rows,
            by=request.user,
            seen=grid.from_seen(seen) or [],
        )
    except InputError as error:
        return _page(request, car, table, columns, typed, seen=seen, refusal=error, status=CONFLICT)
    count = len(checked.rows)
    messages.success(request, f"Kept: {count} row{'' if count == 1 else 's'}.")
    return redirect(_back(request, car)["back"] or reverse("table", args=(car.slug, table)))


def _back(request: HttpRequest, car: Car) -> dict[str, str]:
    """Page of this car that the person came from and the name of its address; empty for none."""
    name = request.POST.get("back") or request.GET.get("back") or ""
    try:
        return {"back": reverse(name, args=(car.slug,)), "back_name": name}
    except NoReverseMatch:
        return {"back": "", "back_name": ""}


def _page(
    request: HttpRequest,
    car: Car,
    table: str,
    columns: tuple[Column, ...],
    rows: Rows,
    *,
    seen: str,
    faults: tuple[Fault, ...] = (),
    status: int = 200,
    **more: Any,
) -> HttpResponse:
    folder = folder_of(car)
    return show(
        request,
        "tables/table.html",
        status=status,
        car=car,
        room="survey",
        table=table,
        told=told(table),
        columns=[(column, heading(column, table=table)) for column in columns],
        lines=grid.lines(rows, columns, table, faults=faults),
        filled_n=sum(any(row.values()) for row in rows),
        offers=grid.offered_names(table, folder),
        seen=seen,
        faults=faults,
        whole_faults=[in_words(fault, table=table) for fault in faults if not fault.row],
        **_back(request, car),
        **more,
    )
