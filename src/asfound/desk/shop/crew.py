"""The workshop's own people, bays and closed days: seen by who works there, kept by its head."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import InputError
from asfound.desk.access import person_of, refuse_readers, show
from asfound.desk.observed.files import as_file
from asfound.desk.people.door import refuse_all_but_head
from asfound.desk.tables import grid
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.told import Told, told
from asfound.exchange import csv_bytes
from asfound.record.actions.workshop import set_workshop
from asfound.record.convert.cards import person_called
from asfound.record.convert.plan_faults import trades_nobody_has, without_end
from asfound.record.convert.shop import shop_tables
from asfound.record.convert.workshop import OF_WORKSHOP, lent_to, sheet_of, with_workshop
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Person
from asfound.record.models.person import Role
from asfound.record.reads.shop_plan import cars_at_work
from asfound.record.reads.workshop import workshop_rows, workshop_sheets
from asfound.record.tables import Column
from asfound.record.tables.words import heading

CONFLICT, FAULTY = 409, 422
ACCOUNTS_READ = 200
Rows = Sequence[Mapping[str, str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One of the tables as it is read."""

    table: str
    told: Told
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def lines(self) -> list[list[tuple[str, str]]]:
        """Rows, each cell under what it is called."""
        return [list(zip(self.columns, row, strict=True)) for row in self.rows]


@login_required
@require_GET
def crew(request: HttpRequest) -> HttpResponse:
    """Page of the three tables, with who signs in as whom, and what is wrong with them."""
    refuse_readers(request)
    sheets, cars, person = workshop_sheets(), cars_at_work(), person_of(request)
    return show(
        request,
        "shop/crew.html",
        is_head=person is not None and person.is_head,
        shown=[_shown(table, sheets.get(table)) for table in OF_WORKSHOP],
        own=[
            (car, [told(table).title for table in OF_WORKSHOP if _has_own(car.folder, table)])
            for car in cars
            if any(_has_own(car.folder, table) for table in OF_WORKSHOP)
        ],
        lacking=[(car, trades) for car in cars if (trades := trades_nobody_has(car.folder))],
        unknown=_unknown_accounts(sheets),
    )


@login_required
@require_http_methods(["GET", "POST"])
def table(request: HttpRequest, table: str) -> HttpResponse:
    """Page on which the head changes one of them; kept as a whole, or told by row why not."""
    refuse_all_but_head(request)
    if table not in OF_WORKSHOP:
        raise Http404(table)
    rows = workshop_rows(table)
    offered = rows or _of_cars(table)
    columns = grid.columns_of(table, offered)
    if request.method == "POST":
        return _take(request, table, columns)
    spare: list[grid.Cells] = [{} for _ in range(grid.SPARE_ROWS)]
    seen = grid.as_seen(rows)
    is_offered = bool(offered) and not rows
    return _page(request, table, columns, [*offered, *spare], seen=seen, is_offered=is_offered)


@login_required
@require_GET
def csv(request: HttpRequest, table: str) -> HttpResponse:
    """One of the tables as a car's folder has it."""
    refuse_readers(request)
    if table not in OF_WORKSHOP:
        raise Http404(table)
    sheet = sheet_of(table, workshop_rows(table))
    return as_file(csv_bytes(sheet), "text/csv; charset=utf-8", f"{table}.csv")


def _take(request: HttpRequest, table: str, columns: tuple[Column, ...]) -> HttpResponse:
    typed = grid.typed_rows(request.POST, columns)
    seen = request.POST.get("seen", "")
    if request.POST.get("step") == "more":
        more: list[grid.Cells] = [{} for _ in range(grid.SPARE_ROWS)]
        return _page(request, table, columns, [*typed, *more], seen=seen)
    checked = check_rows(typed, columns, table=table, folder=CarFolder())
    faults = checked.faults or tuple(_never(table, typed, checked.rows))
    if faults:
        return _page(request, table, columns, typed, seen=seen, faults=faults, status=FAULTY)
    try:
        before = grid.from_seen(seen) or []
        set_workshop(table=table, rows=checked.rows, seen=before, by=request.user)
    except InputError as error:
        return _page(request, table, columns, typed, seen=seen, refusal=error, status=CONFLICT)
    messages.success(
        request, f"Kept: {told(table).title.lower()}. Plans made from now on follow it."
    )
    return redirect("crew")


def _never(table: str, typed: Rows, rows: Rows) -> Iterable[Fault]:
    """Who is away, and what is closed, for ever: plans would stop at it."""
    numbers = tuple(number for number, row in enumerate(typed, start=1) if any(row.values()))
    sheet = sheet_of(table, rows)
    numbered = Sheet(columns=sheet.columns, rows=sheet.rows, numbers=numbers)
    return without_end(CarFolder(sheets={table: numbered}), first=timezone.localdate())


def _page(
    request: HttpRequest,
    table: str,
    columns: tuple[Column, ...],
    rows: Rows,
    *,
    faults: tuple[Fault, ...] = (),
    **more: Any,
) -> HttpResponse:
    return show(
        request,
        "shop/crew_table.html",
        told=told(table),
        columns=[(column, heading(column, table=table)) for column in columns],
        lines=grid.lines(rows, columns, table, faults=faults),
        faults=faults,
        whole_faults=[fault for fault in faults if not fault.row],
        **more,
    )


def _of_cars(table: str) -> list[dict[str, str]]:
    """Rows that the cars at work have, offered where the workshop has none of its own yet."""
    tables, _ = shop_tables(cars_at_work())
    return [{name: cell for name, cell in row.cells.items() if cell} for row in tables[table]]


def _shown(table: str, sheet: Sheet | None) -> Shown:
    used = [] if sheet is None else [i for i, _ in enumerate(sheet.columns) if _any(sheet, i)]
    return Shown(
        table=table,
        told=told(table),
        columns=tuple(sheet.columns[i].replace("_", " ") for i in used) if sheet else (),
        rows=tuple(tuple(_spaced(row[i]) for i in used) for row in sheet.rows) if sheet else (),
    )


def _spaced(cell: str) -> str:
    """Names and days with ; between them, so that a narrow screen can break the line there."""
    return "; ".join(part.strip() for part in cell.split(";"))


def _any(sheet: Sheet, column: int) -> bool:
    return any(row[column] for row in sheet.rows)


def _has_own(folder: CarFolder, table: str) -> bool:
    return bool(len(folder.sheet(table))) and table not in lent_to(folder)


def _unknown_accounts(sheets: Mapping[str, Sheet]) -> list[str]:
    """Craftspeople who may sign in and whom the workshop's people do not name."""
    folder = with_workshop(CarFolder(), sheets)
    crew = Person.objects.current().filter(role=Role.CRAFTSPERSON).select_related("user")
    names = (
        (p.user.get_username(), p.user.get_full_name())
        for p in crew.order_by("user__username")[:ACCOUNTS_READ]
    )
    return [account for account, full in names if not person_called(folder, account, full)]
