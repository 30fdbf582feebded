"""The options of a piece: edited as a whole, or added where none of that name is there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.small_sheet import filled, set_sheet, sheet_rows
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.stored import folder_of
from asfound.record.convert.storing import store_rows
from asfound.record.folder import Row
from asfound.record.log import write_entry
from asfound.record.models import Car, Option
from asfound.record.tables import TABLES

Cells = Mapping[str, str]
_RATES = "treatment_rates"


def piece_options(car: Car, subject: str) -> list[dict[str, str]]:
    """Options of a piece as cells by column."""
    sheet = folder_of(car).sheet("options")
    return [dict(row.cells) for row in sheet if row.text("subject") == subject]


def check_can_set_options(*, car: Car, subject: str, rows: Sequence[Cells], by: Any) -> None:
    """Raise the reason why the options of a piece cannot be set so.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the option that a person locked is not among them.
    """
    check_may_write(by)
    lock = car.decisions.current().filter(subject=subject).first()
    if lock is not None and lock.option not in {row.get("option", "") for row in rows}:
        raise InputError(
            field="options",
            got=f"none called {lock.option}",
            allowed="with the option that is locked among them",
            remedy="Release the lock first.",
        )


@transaction.atomic
def set_piece_options(
    *, car: Car, subject: str, rows: Sequence[Cells], by: Any, seen: Sequence[Cells] | None = None
) -> None:
    """Write all options of a piece; the log keeps what they were.

    Parameters
    ----------
    car : Car
    subject : str
    rows : sequence of mapping
        Cells by column, checked by the exchange.
    by : user or None
    seen : sequence of mapping, optional
        What the person had before them; with it, a change meanwhile is not overwritten.

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_set_options`, and if they changed meanwhile.
    """
    take_turn(car)
    before = piece_options(car, subject)
    if seen is not None and _filled(seen) != _filled(before):
        raise InputError(
            field="options",
            got="options that somebody else changed meanwhile",
            allowed="the options as they were when you opened the page",
            remedy="Open the page again and make the change once more.",
        )
    check_can_set_options(car=car, subject=subject, rows=rows, by=by)
    place = Option.objects.filter(car=car, subject=subject).values_list("position", flat=True)
    first = min(place, default=Option.objects.filter(car=car).count())
    Option.objects.filter(car=car, subject=subject).delete()
    _store(car, rows, first=first)
    after = [dict(row) for row in rows]
    write_entry(
        action="set options",
        by=by,
        car=car,
        before={"subject": subject, "options": before},
        after={"subject": subject, "options": after},
    )


@transaction.atomic
def add_options(*, car: Car, rows: Sequence[Cells], by: Any, rates: Sequence[Cells] = ()) -> int:
    """Options added to the record, those whose piece has one of the name left out; their count.

    Parameters
    ----------
    car : Car
    rows : sequence of mapping
    by : user or None
    rates : sequence of mapping
        Rows of ``treatment_rates`` that the options were made from, in their order; the car
        takes over those that it lacks, so that its folder says what its options rest on.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    take_turn(car)
    there = set(Option.objects.filter(car=car).values_list("subject", "option"))
    new = [dict(row) for row in rows if (row["subject"], row["option"]) not in there]
    if new:
        _take_over(car, rates, by)
        _store(car, new, first=Option.objects.filter(car=car).count())
        write_entry(action="add options", by=by, car=car, after=new)
    return len(new)


def _take_over(car: Car, rates: Sequence[Cells], by: Any) -> None:
    own = sheet_rows(car, _RATES)
    known = {_named(row) for row in own}
    more = list({_named(row): row for row in filled(rates) if _named(row) not in known}.values())
    if more:
        set_sheet(car=car, table=_RATES, rows=[*own, *more], by=by)


def _named(rate: Cells) -> tuple[str, ...]:
    return tuple(rate.get(name, "") for name in TABLES[_RATES].key)


def _store(car: Car, rows: Sequence[Cells], *, first: int) -> None:
    head = list(car.heads.get("options", []))
    columns = list(dict.fromkeys([*head, *(name for row in rows for name in row)]))
    store_rows(car, "options", [Row(dict(row), 0) for row in rows], first=first)
    if columns != head:
        car.heads = {**car.heads, "options": columns}
        car.save(update_fields=["heads"])


def _filled(rows: Sequence[Cells]) -> list[dict[str, str]]:
    return [{name: cell for name, cell in row.items() if cell} for row in rows]
