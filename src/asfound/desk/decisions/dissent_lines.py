"""What people said against the locks of a piece, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core.exceptions import PermissionDenied

from asfound.record.actions import check_can_withdraw_dissent
from asfound.record.models import Car, Decision, Observation

SHOWN = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class DissentLine:
    """One dissent; ``stands`` while it counts and speaks of the lock that counts."""

    pk: int
    option: str
    saying: str
    by: str
    day: str
    stands: bool
    withdrawn: str
    is_mine: bool


def dissent_lines(car: Car, subject: str, lock: Decision | None, *, by: Any) -> list[DissentLine]:
    """Every dissent on a piece in the order it was said."""
    rows = car.observations.filter(table="dissents", subject=subject)[:SHOWN]
    return [_line(row, lock, by) for row in rows]


def _line(row: Observation, lock: Decision | None, by: Any) -> DissentLine:
    stands = row.counts and lock is not None and lock.option == row.cells["option"]
    return DissentLine(
        pk=row.pk,
        option=row.cells["option"],
        saying=row.cells["words"],
        by=row.cells["by"],
        day=row.cells.get("said_on", ""),
        stands=stands,
        withdrawn=row.reason,
        is_mine=stands and _may_withdraw(row, by),
    )


def _may_withdraw(row: Observation, by: Any) -> bool:
    try:
        check_can_withdraw_dissent(dissent=row, by=by)
    except PermissionDenied:
        return False
    return True
