"""A small table of the car that people edit whole: what readings are held against."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Arrival, Car, Entry, KeptSheet
from asfound.record.tables import TABLES
from asfound.record.tables.grounds import TABLES as GROUNDS
from asfound.record.tables.money import RATES
from asfound.record.tables.strip import TABLES as STRIP
from asfound.record.tables.weighing import TABLES as WEIGHING
from asfound.record.tables.work import TABLES as WORK

EDITED_WHOLE = (
    *(table.name for table in (*GROUNDS, *WEIGHING)),
    *("preservation_classes", "treatment_rates", "piece_sizes", "as_left", "safety_tests"),
    *("criteria", "significance"),
    *("events", "event_links"),
    *(table.name for table in (*WORK, *STRIP) if not table.of_workshop),
    *("evidence", "identifiers", "odometer", "wear"),
    *RATES,
)
"""Tables that may be set as a whole; each is a page of the desk."""


@transaction.atomic
def set_sheet(
    *,
    car: Car,
    table: str,
    rows: Sequence[Mapping[str, str]],
    by: Any,
    seen: Sequence[Mapping[str, str]] | None = None,
) -> Entry:
    """Line of the log of a small table that is written whole; the line keeps what it was.

    Parameters
    ----------
    car : Car
    table : str
        One of ``EDITED_WHOLE``.
    rows : sequence of mapping
        Cells by column, checked by the exchange against that table.
    by : user or None
    seen : sequence of mapping, optional
        Rows that the person had before them; with it, a change by somebody else meanwhile is
        not overwritten.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the table is not one that is edited whole, or it changed meanwhile.
    """
    check_may_write(by)
    if table not in EDITED_WHOLE:
        raise InputError(field="table", got=table, allowed=", ".join(EDITED_WHOLE))
    take_turn(car)
    before = sheet_rows(car, table)
    if seen is not None:
        check_unchanged(table, seen=seen, now=before)
    write_sheet(car, table, rows)
    after = [dict(row) for row in rows]
    return write_entry(action=f"set {table}", by=by, car=car, before=before, after=after)


@transaction.atomic
def add_to_sheet(
    *, car: Car, table: str, row: Mapping[str, str], by: Any, key: str = ""
) -> Entry | None:
    """Line of the log of one row that is added after those that are there.

    Rows that others add meanwhile stay: two devices may send at once what waited on them.

    Parameters
    ----------
    car, table, by
        As :func:`set_sheet`.
    row : mapping
        Cells by column, checked by the exchange against that table.
    key : str
        Made by the sender; what comes again under one key is not written again, and gives None.

    Raises
    ------
    InputError
        If the table is not one that is edited whole.
    """
    check_may_write(by)
    take_turn(car)
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return None
    return set_sheet(car=car, table=table, rows=[*sheet_rows(car, table), row], by=by)


@transaction.atomic
def undo_set_sheet(*, entry: Entry, by: Any) -> None:
    """Small table as it was before one line of the log.

    Raises
    ------
    InputError
        If the table is no longer as that line left it.
    """
    table = entry.action.removeprefix("set ")
    if table not in EDITED_WHOLE or entry.car is None or entry.before is None:
        raise InputError(field="entry", got=entry.action, allowed="the setting of a small table")
    seen, before = entry.after or [], entry.before
    set_sheet(car=entry.car, table=table, rows=before, by=by, seen=seen)


@transaction.atomic
def set_piece_rows(
    *,
    car: Car,
    table: str,
    subject: str,
    rows: Sequence[Mapping[str, str]],
    by: Any,
    seen: Sequence[Mapping[str, str]] | None = None,
) -> None:
    """Write the rows of one piece in such a table; the log keeps what they were.

    Parameters
    ----------
    car, table, rows, by, seen
        As :func:`set_sheet`, but of the piece alone.
    subject : str

    Raises
    ------
    InputError
        As :func:`set_sheet`.
    """
    check_may_write(by)
    take_turn(car)
    everything = sheet_rows(car, table)
    before = [row for row in everything if row["subject"] == subject]
    if seen is not None:
        check_unchanged(table, seen=seen, now=before)
    others = [row for row in everything if row["subject"] != subject]
    mine = [{**row, "subject": subject} for row in rows]
    write_sheet(car, table, [*others, *mine])
    write_entry(action=f"set {table}", by=by, car=car, before=before, after=mine)


def write_sheet(car: Car, table: str, rows: Sequence[Mapping[str, str]]) -> None:
    """Rows in place of those of a table; the caller took the turn and writes the log."""
    declared = [column.name for column in TABLES[table].columns]
    head = list(dict.fromkeys([*declared, *(name for row in rows for name in row)]))
    KeptSheet.objects.update_or_create(
        car=car,
        table=table,
        defaults={"rows": [[row.get(name, "") for name in head] for row in rows]},
    )
    car.heads = {**car.heads, table: head}
    car.save(update_fields=["heads"])


def sheet_rows(car: Car, table: str) -> list[dict[str, str]]:
    """Rows of a table that is kept as text, as cells by column."""
    head = car.heads.get(table, [])
    kept = car.kept_sheets.filter(table=table).first()
    return [] if kept is None else [dict(zip(head, row, strict=True)) for row in kept.rows]


def rows_of_sheets(car: Car, tables: Iterable[str]) -> dict[str, int]:
    """How many rows each of these tables has, those without any left out."""
    kept = car.kept_sheets.filter(table__in=list(tables)).values_list("table", "rows")
    return {table: len(rows) for table, rows in kept}


def check_unchanged(
    table: str, *, seen: Sequence[Mapping[str, str]], now: Sequence[Mapping[str, str]]
) -> None:
    """Raise the reason why rows may not be written: they are no longer those that were seen.

    Raises
    ------
    InputError
        If somebody else changed them meanwhile.
    """
    if filled(seen) != filled(now):
        raise InputError(
            field=table,
            got="rows that somebody else changed meanwhile",
            allowed="the rows as they were when you opened the page",
            remedy="Open the page again and make the change once more.",
        )


def filled(rows: Sequence[Mapping[str, str]]) -> list[dict[str, str]]:
    """Rows with the cells that hold something."""
    return [{name: cell for name, cell in row.items() if cell} for row in rows]
