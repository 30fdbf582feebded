"""What upsets a plan, entered in one step: late, away, closed, more hours."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.small_sheet import set_sheet, sheet_rows
from asfound.record.actions.workshop import correct_workshop
from asfound.record.convert.work_faults import MOST_HOURS
from asfound.record.log import write_entry
from asfound.record.models import Car
from asfound.record.reads.workshop import workshop_rows

SETBACK = "setback"
"""Action of the log's line that tells a setback in words; of a late one it names car and task."""
Cells = dict[str, str]
_POINTS = ("hours_low", "hours_likely", "hours_high")
MOST_DAYS = 3653
"""Who or what is gone for ten years does not come back: that is no setback of a plan."""


@transaction.atomic
def not_before(*, car: Car, task: str, until: date, today: date, by: Any) -> None:
    """A task cannot start before a day: what it needs comes late."""
    _check_span("until", today, until)
    _change(car, "tasks", "task", task, lambda row: row | {"earliest": until.isoformat()}, by)


@transaction.atomic
def more_hours(*, car: Car, task: str, hours: float, by: Any) -> None:
    """A task takes so many hours more than was thought.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the hours are not above 0 or too many, or the task is not there.
    """
    if not 0 < hours <= MOST_HOURS:
        raise InputError(
            field="hours",
            got=f"{hours:g}",
            allowed=f"above 0, at most {MOST_HOURS:,}",
            remedy="To take hours off, correct the table of tasks.",
        )

    def longer(row: Cells) -> Cells:
        return row | {point: f"{float(row[point]) + hours:g}" for point in _POINTS}

    _change(car, "tasks", "task", task, longer, by)


@transaction.atomic
def away(
    *, cars: Iterable[Car], person: str, first: date, last: date, today: date, by: Any
) -> None:
    """A person is away from a day to a day, in the workshop's and every car's table of them."""
    _everywhere(cars, "people", "person", person, "away", (first, last), today, by)


@transaction.atomic
def closed(*, cars: Iterable[Car], bay: str, first: date, last: date, today: date, by: Any) -> None:
    """A place of a bay cannot be used from a day to a day."""
    _everywhere(cars, "bays", "bay", bay, "closed", (first, last), today, by)


def named_task(car: Car, task: str) -> str:
    """A task of a car as people call it, with its short name for whoever works by that.

    Examples: ``Solder the lower tank (D07) of Orvane Dunlin INV 34``; the short name alone where
    nobody said what is done.
    """
    names = {row["task"]: row.get("name", "") for row in sheet_rows(car, "tasks")}
    name = names.get(task, "")
    return f"{name} ({task}) of {car}" if name else f"{task} of {car}"


def tell_setback(*, words: str, by: Any, **about: str) -> None:
    """What upset the plan, in the words that stand beside the next one.

    Parameters
    ----------
    words : str
    by : user or None
    **about
        Of what comes late: ``car`` and ``task`` that wait, ``what`` is late, and ``until`` when.
    """
    write_entry(action=SETBACK, by=by, after={"words": words, **about})


def _everywhere(
    cars: Iterable[Car],
    table: str,
    key: str,
    name: str,
    column: str,
    days: tuple[date, date],
    today: date,
    by: Any,
) -> None:
    first, last = days
    _check_span("last day", max(first, today), last)
    span = f"{first.isoformat()}/{last.isoformat()}" if first != last else first.isoformat()

    def with_days(row: Cells) -> Cells:
        return row | {column: "; ".join(part for part in (row.get(column, ""), span) if part)}

    named = [car for car in cars if any(r.get(key) == name for r in sheet_rows(car, table))]
    shared = workshop_rows(table)
    in_workshop = any(row.get(key) == name for row in shared)
    if not (named or in_workshop):
        raise InputError(
            field=key,
            got=name,
            allowed=f"one that the table of {table} of the workshop or of a car names",
            remedy=f"Write it into the table of {table} first.",
        )
    for car in named:
        _change(car, table, key, name, with_days, by)
    if in_workshop:
        rows = [with_days(row) if row.get(key) == name else row for row in shared]
        correct_workshop(table=table, rows=rows, by=by, seen=shared)


def _check_span(field: str, first: date, last: date) -> None:
    if last < first:
        raise InputError(field=field, got=last.isoformat(), allowed=f"{first.isoformat()} or later")
    if (last - first).days > MOST_DAYS:
        raise InputError(
            field=field,
            got=last.isoformat(),
            allowed="within ten years",
            remedy="Who or what does not come back is taken out of the table.",
        )


def _change(
    car: Car, table: str, key: str, name: str, new: Callable[[Cells], Cells], by: Any
) -> None:
    seen = sheet_rows(car, table)
    if not any(row.get(key) == name for row in seen):
        raise InputError(field=key, got=name, allowed=f"one that {table}.csv of {car} names")
    rows = [new(dict(row)) if row.get(key) == name else row for row in seen]
    set_sheet(car=car, table=table, rows=rows, by=by, seen=seen)
