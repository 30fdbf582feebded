"""The workshop's own table of treatments, from which options are offered to every car."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.money.opened import check_head
from asfound.desk.tables import grid
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.fault_words import in_words
from asfound.desk.tables.told import told
from asfound.record.actions.money import set_treatments
from asfound.record.convert.trades import HOURS, USUAL
from asfound.record.folder import CarFolder
from asfound.record.reads.money import money_settings
from asfound.record.tables import Column

CONFLICT, FAULTY = 409, 422
_TABLE = "treatment_rates"
_SPARE: list[grid.Cells] = [{} for _ in range(grid.SPARE_ROWS)]

Rows = Sequence[Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of piece with its rows."""

    name: str
    rows: list[Mapping[str, str]]

    @property
    def ways(self) -> list[tuple[Mapping[str, str], list[tuple[str, str]]]]:
        """Each row with the hours of its trades."""
        return [(row, _hours(row)) for row in self.rows]

    @property
    def address(self) -> str:
        """Where its rows are changed."""
        return _address(self.name)


@login_required
@require_http_methods(["GET", "POST"])
def treatments(request: HttpRequest) -> HttpResponse:
    """The table, for the head alone; with ``kind``, the rows of one kind to be changed.

    One kind at a time is sent, so that a form stays short however long the table grows; the
    table is still kept as a whole, or told by row why it cannot be.
    """
    check_head(request)
    now = money_settings()
    rows = now.treatment_rates
    trades = tuple(row["trade"] for row in now.charge_rates) or USUAL
    columns = grid.columns_of(_TABLE, rows, trades=tuple(dict.fromkeys(trades)))
    if request.method == "POST":
        return _take(request, columns)
    kind = request.GET.get("kind")
    if kind is None and rows:
        return show(request, "money/treatments.html", told=told(_TABLE), kinds=_by_kind(rows))
    own = [row for row in rows if row["kind"] == kind]
    spare = [{"kind": kind or ""}] if own else _SPARE
    return _form(request, columns, [*own, *spare], kind=kind or "", seen=grid.as_seen(rows))


def _take(request: HttpRequest, columns: tuple[Column, ...]) -> HttpResponse:
    """Keep the rows of one kind with all others as they were seen."""
    typed = [_named(row) for row in grid.typed_rows(request.POST, columns)]
    kind, seen = request.GET.get("kind", ""), request.POST.get("seen", "")
    page: dict[str, Any] = {"kind": kind, "seen": seen}
    if request.POST.get("step") == "more":
        return _form(request, columns, [*typed, *_SPARE], **page)
    before = grid.from_seen(seen) or []
    others = [row for row in before if row.get("kind") != kind]
    checked = check_rows([*typed, *others], columns, table=_TABLE, folder=CarFolder())
    if checked.faults:
        return _form(request, columns, typed, faults=checked.faults, status=FAULTY, **page)
    first = next((n for n, row in enumerate(before) if row.get("kind") == kind), len(others))
    mine_n = sum(any(row.values()) for row in typed)
    mine, rest = checked.rows[:mine_n], checked.rows[mine_n:]
    kept = (*rest[:first], *mine, *rest[first:])
    try:
        set_treatments(rows=kept, seen=before, by=request.user)
    except InputError as error:
        return _form(request, columns, typed, refusal=error, status=CONFLICT, **page)
    count = len(mine)
    messages.success(request, f"Kept: {count} row{'' if count == 1 else 's'}.")
    return redirect("treatments")


def _named(row: grid.Cells) -> grid.Cells:
    """A row as typed; one in which nothing but the kind stands is an empty one."""
    return row if any(cell for name, cell in row.items() if name != "kind") else {}


def _form(
    request: HttpRequest,
    columns: tuple[Column, ...],
    rows: Rows,
    *,
    faults: tuple[Any, ...] = (),
    **more: Any,
) -> HttpResponse:
    return show(
        request,
        "money/treatments_of_kind.html",
        told=told(_TABLE),
        lines=grid.lines(rows, columns, _TABLE, faults=faults),
        faults=faults,
        whole_faults=[
            in_words(fault, table=_TABLE)
            for fault in faults
            if not fault.row or fault.row > len(rows)
        ],
        **more,
    )


def _by_kind(rows: Rows) -> list[Kind]:
    """Rows under the kind of piece that they are for, in the order met."""
    kinds: dict[str, list[Mapping[str, str]]] = {}
    for row in rows:
        kinds.setdefault(row["kind"], []).append(row)
    return [Kind(name, own) for name, own in kinds.items()]


def _hours(row: Mapping[str, str]) -> list[tuple[str, str]]:
    return [
        (column.removeprefix(HOURS), cell)
        for column, cell in row.items()
        if column.startswith(HOURS) and float(cell or 0)
    ]


def _address(kind: str) -> str:
    return f"{reverse('treatments')}?{urlencode({'kind': kind})}"
