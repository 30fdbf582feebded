"""The options of a piece edited as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.desk.tables import grid
from asfound.desk.tables.checking import check_rows
from asfound.record.actions import (
    check_can_set_options,
    piece_options,
    set_piece_options,
)
from asfound.record.convert.past_hours import without_changed
from asfound.record.convert.stored import folder_of
from asfound.record.convert.trades import trades_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.tables import TABLES, Column
from asfound.record.tables.words import heading

CONFLICT, FAULTY = 409, 422
_TABLE = "options"
_FIRST = ("option", "treatment", "kept", "grade", "cost")
_LAST = ("source", "doubt", "safe", "undoable", "L", "a", "b")


@login_required
@require_http_methods(["GET", "POST"])
def edit_options(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Every number of a piece's options, with its source."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    rows = piece_options(car, subject)
    columns = _columns(rows, folder)
    if request.method == "POST":
        return _take(request, car, folder, subject, columns)
    return _page(request, car, subject, columns, [*rows, {}], seen=grid.as_seen(rows))


def _columns(rows: Sequence[Mapping[str, str]], folder: CarFolder) -> tuple[Column, ...]:
    """Columns but the piece's name: what is decided by first, what is seldom filled last."""
    found = grid.columns_of(_TABLE, rows, trades=trades_of(folder))
    prefix = TABLES[_TABLE].prefix

    def place(column: Column) -> int:
        if column.name in _FIRST:
            return _FIRST.index(column.name)
        if column.name.startswith(prefix):
            return len(_FIRST)
        return len(_FIRST) + 1 + (_LAST.index(column.name) if column.name in _LAST else len(_LAST))

    hidden = ("subject", "learned")
    return tuple(sorted((c for c in found if c.name not in hidden), key=place))


def _take(
    request: HttpRequest, car: Car, folder: CarFolder, subject: str, columns: tuple[Column, ...]
) -> HttpResponse:
    typed = grid.typed_rows(request.POST, columns)
    seen = request.POST.get("seen", "")
    if request.POST.get("step") == "more":
        return _page(request, car, subject, columns, [*typed, {}], seen=seen)
    before = {row["option"]: row for row in piece_options(car, subject)}
    mine = [_still_learned({"subject": subject, **row}, before) if row else {} for row in typed]
    others = [dict(row.cells) for row in folder.sheet(_TABLE) if row.text("subject") != subject]
    every = grid.columns_of(_TABLE, [*mine, *others])
    try:
        check_can_set_options(car=car, subject=subject, rows=mine, by=request.user)
    except InputError as error:
        return _page(
            request, car, subject, columns, typed, seen=seen, refusal=str(error), status=CONFLICT
        )
    checked = check_rows([*mine, *others], every, table=_TABLE, folder=folder)
    if checked.faults:
        return _page(
            request, car, subject, columns, typed, seen=seen, faults=checked.faults, status=FAULTY
        )
    kept = [row for row in checked.rows if row["subject"] == subject]
    try:
        set_piece_options(
            car=car, subject=subject, rows=kept, by=request.user, seen=grid.from_seen(seen) or []
        )
    except InputError as error:
        return _page(
            request, car, subject, columns, typed, seen=seen, refusal=str(error), status=CONFLICT
        )
    set_totals_aside(request, car)
    messages.success(request, f"The options of {subject} are kept; the choice follows them.")
    back = request.GET.get("back", "")
    if back.isdecimal():  # the finding that asked for it
        return redirect("reopened", car.slug, int(back))
    return redirect("piece", car.slug, subject) if kept else redirect("decisions", car.slug)


def _still_learned(row: dict[str, str], before: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    """The row with what is learned of it, but for trades whose hours were typed anew."""
    learned = without_changed(before.get(row.get("option", ""), {}), row)
    return {**row, "learned": learned} if learned else row


def _page(
    request: HttpRequest,
    car: Car,
    subject: str,
    columns: tuple[Column, ...],
    rows: Sequence[Mapping[str, str]],
    *,
    seen: str,
    faults: Sequence[Any] = (),
    status: int = 200,
    **more: Any,
) -> HttpResponse:
    return show(
        request,
        "decisions/edit_options.html",
        status=status,
        car=car,
        room="decisions",
        subject=subject,
        columns=[(column, heading(column, table=_TABLE)) for column in columns],
        lines=grid.lines(rows, columns, _TABLE, faults=faults),
        seen=seen,
        faults=faults,
        whole_faults=[fault for fault in faults if not fault.row or fault.row > len(rows)],
        **more,
    )
