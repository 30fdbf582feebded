"""Decisions of people become rows of ``locks.csv``, and rows become decisions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.models import Car, Decision
from asfound.record.tables import TABLES

FROM_THE_FOLDER = "from the car folder"
"""Reason of a lock that came with a folder which gives none."""
LOCK = "locked_option"
_USUAL = tuple(column.name for column in TABLES["locks"].columns)


def locks_sheet(head: tuple[str, ...], decisions: Iterable[Decision]) -> Sheet:
    """Locks with their reasons; one that came without a reason has no row."""
    rows = [_row(one) for one in decisions if one.reason != FROM_THE_FOLDER]
    needed = [name for name in _USUAL if any(row.get(name) for row in rows)]
    columns = tuple(dict.fromkeys([*(head or _USUAL), *needed]))
    return Sheet(
        columns=columns, rows=tuple(tuple(row.get(name, "") for name in columns) for row in rows)
    )


def _row(decision: Decision) -> dict[str, str]:
    written = decision.told or {"by": decision.who, "locked_on": decision.day}
    here = {name: getattr(decision, name) for name in ("subject", "option", "reason")}
    return {**written, **here}


def decisions_in(folder: CarFolder, car: Car, *, by: Any) -> Iterator[Decision]:
    """Decisions that a folder tells: those with a reason first, in the order of their rows."""
    locked = {row.text("subject"): row.text(LOCK) for row in folder.sheet("subjects")}
    explained = [row for row in folder.sheet("locks") if _is_of(row, locked)]
    for row in explained:
        yield Decision(
            car=car,
            subject=row.text("subject"),
            option=row.text("option"),
            reason=row.text("reason"),
            told=dict(row.cells),
            by=by,
        )
    named = {row.text("subject") for row in explained}
    for subject, option in locked.items():
        if option and subject not in named:
            yield Decision(car=car, subject=subject, option=option, reason=FROM_THE_FOLDER, by=by)


def _is_of(row: Row, locked: dict[str, str]) -> bool:
    return bool(row.text("option")) and locked.get(row.text("subject")) == row.text("option")
