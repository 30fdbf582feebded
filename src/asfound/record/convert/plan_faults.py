"""What stands against a plan that begins on a given day, each at its row."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.holds import Hold, holding, waits_on
from asfound.record.convert.plan_sight import beyond_sight
from asfound.record.convert.weekdays import absences, first_day, last_day, weekdays
from asfound.record.convert.work_faults import work_faults
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Row

LOOK_AHEAD_DAYS = 3653
"""Whoever has no working day within ten years of the plan's first is away for ever."""


def plan_faults(car: CarFolder, *, first: date) -> list[Fault]:
    """Faults against a plan that begins on the day ``first``."""
    if not len(car.sheet("tasks")):
        return [
            Fault(
                file="tasks.csv",
                rule="the car has no task, so there is nothing to plan",
                remedy="Add tasks.csv with task, name, trade, hours_low, hours_likely, hours_high.",
            )
        ]
    standing = work_faults(car.sheets)
    if standing:
        return standing
    far = list(beyond_sight(car, first))
    if far:
        return far
    return [
        *_shut_for_ever(car),
        *never_in(car, first),
        *_trades_missing(car),
        *_bays_missing(car),
        *_closed_for_ever(car),
        *_due_too_soon(car, first),
    ]


def without_end(car: CarFolder, *, first: date) -> list[Fault]:
    """People, bays and closed days that a plan would stop at, whatever there is to do."""
    return [*_shut_for_ever(car), *never_in(car, first), *_closed_for_ever(car)]


def trades_nobody_has(car: CarFolder) -> list[str]:
    """Trades that tasks of the car ask for and no person has."""
    has = {trade.strip() for row in car.sheet("people") for trade in row.text("trades").split(";")}
    asked = (r.text("trade") for r in car.sheet("tasks") if r.number("people", default=1))
    return sorted({trade for trade in asked if trade not in has})


def _shut_for_ever(car: CarFolder) -> Iterator[Fault]:
    for row in car.sheet("closed_days"):
        if any(end == date.max for _, end in absences(row.text("days"))):
            yield cell_fault(
                "closed_days.csv",
                row,
                "days",
                "the workshop is closed for ever: the time has no end",
                "Give the last day on which nobody works.",
            )


def never_in(car: CarFolder, first: date) -> Iterator[Fault]:
    """People who work no hours or are away for ever, seen from the day ``first``."""
    closed = [span for row in car.sheet("closed_days") for span in absences(row.text("days"))]
    for row in car.sheet("people"):
        person = row.text("person")
        if not round(row.number("hours_per_day") * 60):  # work is counted in minutes
            yield cell_fault(
                "people.csv",
                row,
                "hours_per_day",
                f"{person} works no hours",
                "Give the hours of a working day, or take the person out of the table.",
            )
        elif any(end == date.max for _, end in absences(row.text("away"))):
            yield cell_fault(
                "people.csv",
                row,
                "away",
                f"{person} is away for ever: an absence has no end",
                "Give the last day of the absence, or take the person out of the table.",
            )
        elif not _has_a_working_day(row, first, closed):
            yield cell_fault(
                "people.csv",
                row,
                "away",
                f"{person} is away for ever: no working day within ten years from {first}",
                "Correct the absence, or take the person out of the table.",
            )


def _has_a_working_day(row: Row, first: date, closed: list[tuple[date, date]]) -> bool:
    days, away = weekdays(row.text("days")) or (), [*absences(row.text("away")), *closed]
    ahead = (first + timedelta(days=step) for step in range(LOOK_AHEAD_DAYS))
    return any(
        day.weekday() in days and not any(begin <= day <= end for begin, end in away)
        for day in ahead
    )


def _trades_missing(car: CarFolder) -> Iterator[Fault]:
    able: dict[str, int] = {}
    for row in car.sheet("people"):
        for trade in {part.strip() for part in row.text("trades").split(";")}:
            able[trade] = able.get(trade, 0) + 1
    known = ", ".join(sorted(able)) or "none"
    for row in car.sheet("tasks"):
        people, trade = int(row.number("people", default=1)), row.text("trade")
        if people and trade not in able:
            yield cell_fault(
                "tasks.csv",
                row,
                "trade",
                f"nobody in people.csv has the trade that {row.text('task')} needs; "
                f"trades there: {known}",
                "Correct the trade, or add a person who has it.",
            )
        elif people > able.get(trade, 0):
            yield cell_fault(
                "tasks.csv",
                row,
                "people",
                f"{row.text('task')} needs more people of trade {trade} at the same time than "
                f"the {able[trade]} in people.csv",
                "Correct the number, or add people who have the trade.",
            )


def _bays_missing(car: CarFolder) -> Iterator[Fault]:
    """Names of bays are only checked where the table is there; see ``bays_of`` of the plan."""
    if not len(car.sheet("bays")):
        return
    count = {row.text("bay"): int(row.number("count")) for row in car.sheet("bays")}
    for row in car.sheet("tasks"):
        bay = row.text("bay")
        if bay and not count.get(bay, 0):
            here = "has no place of it" if bay in count else "does not name it"
            yield cell_fault(
                "tasks.csv",
                row,
                "bay",
                f"{row.text('task')} needs this bay, and bays.csv {here}",
                "Correct the name, or give the bay one place or more in bays.csv.",
            )


def _closed_for_ever(car: CarFolder) -> Iterator[Fault]:
    for row in car.sheet("bays"):
        if any(end == date.max for _, end in absences(row.text("closed"))):
            yield cell_fault(
                "bays.csv",
                row,
                "closed",
                f"{row.text('bay')} is closed for ever: the time has no end",
                "Give the last day on which it is closed, or lower its count.",
            )


def _due_too_soon(car: CarFolder, first: date) -> Iterator[Fault]:
    holds = waits_on(car)
    for row in car.sheet("tasks"):
        due, earliest = last_day(row.text("due")), first_day(row.text("earliest"))
        if due is None:
            continue
        if due < first:
            yield cell_fault(
                "tasks.csv",
                row,
                "due",
                f"{row.text('task')} is due before {first}, the first day of the plan",
                "Correct the day, or let the plan begin earlier.",
            )
        elif earliest is not None and due < earliest:
            yield cell_fault(
                "tasks.csv",
                row,
                "due",
                f"{row.text('task')} is due before {earliest}, the day from which it may start",
                "Correct one of the two days.",
            )
        else:
            yield from _held_too_long(row, due, holds)


def _held_too_long(row: Row, due: date, holds: tuple[Hold, ...]) -> Iterator[Fault]:
    for hold in holding(holds, task=row.text("task"), subject=row.text("subject")):
        if hold.expected is not None and due < hold.expected:
            yield cell_fault(
                "tasks.csv",
                row,
                "due",
                f"{row.text('task')} is due before {hold.expected}, when what holds it is to end: "
                f"{hold.waits}",
                "Move the day that it is due, or have it released earlier.",
            )
