"""What lies beyond the days that a plan looks at, each at its row."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.weekdays import first_day, last_day
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Row

SIGHT_YEARS = 20
SIGHT = timedelta(days=7305)
"""What cannot be done within twenty years of the plan's first day is not planned."""


def beyond_sight(car: CarFolder, first: date) -> Iterator[Fault]:
    """Days and waits that are twenty years and more away, and waits that have no end."""
    if first > date.max - 3 * SIGHT:
        yield Fault(
            file="tasks.csv",
            rule=f"the plan would begin on {first}, where the calendar ends",
            remedy="Let the plan begin earlier, or correct the first day of the tasks.",
        )
        return
    for row in car.sheet("tasks"):
        earliest = first_day(row.text("earliest"))
        if earliest is not None and earliest - first > SIGHT:
            yield _too_far("tasks.csv", row, "earliest", f"{row.text('task')} may start", first)
    for row in car.sheet("task_links"):
        if row.number("lag_hours", default=0.0) > SIGHT / timedelta(hours=1):
            yield _too_far("task_links.csv", row, "lag_hours", "the wait ends", first)
    for row in car.sheet("holds"):
        if row.text("released_by"):
            continue
        expected = last_day(row.text("expected"))
        if expected is None:
            yield cell_fault(
                "holds.csv",
                row,
                "expected",
                "what is held without an end can never be planned",
                "Give the last day of the wait as far as it is known, or release it.",
            )
        elif expected - first > SIGHT:
            yield _too_far("holds.csv", row, "expected", "the wait ends", first)


def seen_due(due: date | None, first: date) -> date | None:
    """Due day as far as a plan looks: what is due later can never be late."""
    return None if due is None or due - first > 2 * SIGHT else due


def _too_far(file: str, row: Row, column: str, what: str, first: date) -> Fault:
    return cell_fault(
        file,
        row,
        column,
        f"{what} more than {SIGHT_YEARS} years after {first}, the first day of the plan",
        "Correct the cell, or leave the task out of the plan until then.",
    )
