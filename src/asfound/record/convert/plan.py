"""Tasks, links, people and bays of a car become a plan to be made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from asfound.plan import Bay, Hours, Person, PlanProblem, Task, TaskLink, WorkingTime
from asfound.record.convert.holds import Hold, holding, waits_on
from asfound.record.convert.job_kind import kind_of
from asfound.record.convert.plan_faults import plan_faults
from asfound.record.convert.plan_sight import seen_due
from asfound.record.convert.weekdays import absences, first_day, last_day, weekdays
from asfound.record.convert.workshop import lent_to, named
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Row

DAY_MIN = 1440
NO_DAY_NAMED = date(2001, 1, 1)
"""A Monday: the plan's first day where neither a person nor a table names one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopQuestion:
    """A problem, and the day that its minutes are counted from."""

    problem: PlanProblem
    first_day: date

    def at(self, minutes: float) -> datetime:
        """Local time so many minutes after the plan's first midnight."""
        midnight = datetime.combine(self.first_day, time())
        return midnight + timedelta(minutes=round(minutes))


def default_first_day(car: CarFolder) -> date:
    """The plan's first day where nobody gives one: the same for the same folder.

    The first ``earliest`` of the tasks; else the first day of any absence; else a fixed Monday.
    """
    earliest = [first_day(row.text("earliest")) for row in car.sheet("tasks")]
    absent = [first for row in car.sheet("people") for first, _ in absences(row.text("away"))]
    for days in (earliest, [day for day in absent if day != date.min]):
        named = [day for day in days if day is not None]
        if named:
            return min(named)
    return NO_DAY_NAMED


def shop_question(car: CarFolder, *, start: date | None = None) -> ShopQuestion:
    """What is to be planned from a day on.

    Parameters
    ----------
    car : CarFolder
    start : date or None
        The plan's first day; None takes the folder's own (``default_first_day``).

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan, each at its row.
    """
    first = start or default_first_day(car)
    faults = plan_faults(car, first=first)
    if faults:
        raise InputFaultsError(tuple(named(faults, lent_to(car))))
    holds, closed = waits_on(car), closed_spans(car, first)
    problem = PlanProblem(
        tasks=tuple(task_of(row, first, holds) for row in car.sheet("tasks")),
        links=tuple(link_of(row) for row in car.sheet("task_links")),
        people=tuple(person_of(row, first, closed) for row in car.sheet("people")),
        bays=tuple(bays_of(car, first)),
        first_weekday=first.weekday(),
    )
    return ShopQuestion(problem=problem, first_day=first)


def task_of(row: Row, first: date, holds: tuple[Hold, ...] = ()) -> Task:
    """Task that a row tells, its days counted from ``first``; what holds it is a wait."""
    earliest, due = earliest_start(row, holds), seen_due(last_day(row.text("due")), first)
    bay = row.text("bay")
    return Task(
        task=row.text("task"),
        hours=Hours(
            low=row.number("hours_low"),
            likely=row.number("hours_likely"),
            high=row.number("hours_high"),
        ),
        trade=row.text("trade"),
        people=int(row.number("people", default=1)),
        bays={bay: 1} if bay else {},
        not_before_min=max(0, (earliest - first).days * DAY_MIN) if earliest else 0,
        due_min=((due - first).days + 1) * DAY_MIN if due else None,
        learned=row.number("learned", default=1.0),
        kind=kind_of(row),
    )


def earliest_start(row: Row, holds: tuple[Hold, ...]) -> date | None:
    """First day on which a task may begin: its own, and that on which what holds it is to end."""
    held = holding(holds, task=row.text("task"), subject=row.text("subject"))
    days = (first_day(row.text("earliest")), *(one.expected for one in held))
    return max((day for day in days if day), default=None)


def link_of(row: Row) -> TaskLink:
    """Link that a row tells."""
    return TaskLink(
        before=row.text("before"),
        after=row.text("after"),
        lag_min=round(row.number("lag_hours", default=0.0) * 60),
    )


def closed_spans(car: CarFolder, first: date) -> tuple[tuple[int, int], ...]:
    """First and last days on which nobody works, counted from ``first``."""
    return tuple(
        span for row in car.sheet("closed_days") for span in _days(row.text("days"), first)
    )


def person_of(row: Row, first: date, closed: tuple[tuple[int, int], ...] = ()) -> Person:
    """Person that a row tells, absences and the workshop's closed days counted from ``first``."""
    minutes, days = round(row.number("hours_per_day") * 60), weekdays(row.text("days")) or ()
    return Person(
        person=row.text("person"),
        trades=tuple(trades_of(row)),
        time=WorkingTime(
            minutes=tuple(minutes if day in days else 0 for day in range(7)),
            away=(*_days(row.text("away"), first), *closed),
        ),
    )


def trades_of(row: Row) -> Iterator[str]:
    """Trades of a person, ``;`` between them."""
    return (trade.strip() for trade in row.text("trades").split(";") if trade.strip())


def _days(text: str, first: date) -> tuple[tuple[int, int], ...]:
    return tuple(((begin - first).days, (end - first).days) for begin, end in absences(text))


def bays_of(car: CarFolder, first: date) -> Iterator[Bay]:
    """Bays as listed; without a list, one place of each bay that a task names."""
    if len(car.sheet("bays")):
        for row in car.sheet("bays"):
            yield Bay(
                bay=row.text("bay"),
                count=int(row.number("count")),
                closed=_days(row.text("closed"), first),
            )
    else:
        named = dict.fromkeys(row.text("bay") for row in car.sheet("tasks") if row.text("bay"))
        yield from (Bay(bay=bay, count=1) for bay in named)
