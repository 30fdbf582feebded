"""One car in a plan of the shop: its finish, the days to promise, and what they hang on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from asfound.plan import Governor, Plan, Promise, governors
from asfound.plan.governs import Kind
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.plan import CHANCES, goes_on

Key = tuple[str, str]
"""Car and task."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LateBecause:
    """A task whose doubt makes the car late; ``days`` are won were it certain of its hours."""

    car: str
    task: str
    days: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEarlier:
    """Hours of overtime by a person that bring the car's finish a day forward."""

    person: str
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HangsOn:
    """One link of the chain that the car's finish hangs on.

    Parameters
    ----------
    car, task : str
    kind : str
        Why it cannot begin sooner, as in ``asfound.plan.Governor``.
    before : (str, str) or None
        Car and task that it waits for.
    of : str
        Person or bay; for a day, what is waited for until then where a hold tells it.
    """

    car: str
    task: str
    kind: Kind
    before: Key | None = None
    of: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCar:
    """One car of the plan: its finish, the days to promise, and what was promised.

    ``kept`` is the chance, 0–1, that it is done by the end of the promised day. ``curve`` has the
    minutes from the midnight before the plan was made by which the shares 0, 0.01, … 1 of the
    draws have finished; it is empty in plans that were adopted before such were kept, and so is
    ``finish_kept``, the share of the ``draws`` that has finished by the plan's own finish, and
    ``goes_on``, how the shop goes on in them where something is late.
    """

    car: str
    title: str
    priority: float
    promised: date | None
    finish: datetime
    p50: date
    p80: date
    p95: date
    kept: float | None
    curve: tuple[int, ...] = ()
    late_because: tuple[LateBecause, ...] = ()
    a_day_earlier: tuple[DayEarlier, ...] = ()
    hangs_on: tuple[HangsOn, ...] = ()
    finish_kept: float | None = None
    draws: int = 10_000
    goes_on: str = ""

    @property
    def is_at_risk(self) -> bool:
        """Whether the promised day is kept with less than 80 %."""
        return self.kept is not None and self.kept < CHANCES["p80"]


def planned_car(
    question: ShopQuestion,
    plan: Plan,
    promise: Promise,
    *,
    car: str,
    title: str,
    promised: date | None,
    begun: frozenset[str],
    waits: Mapping[str, str],
) -> PlannedCar:
    """A car of a plan of the core, with its days.

    Parameters
    ----------
    question, plan, promise
        What was asked, and what the core answered for the whole shop.
    car, title : str
        Its name in the plan, and for people.
    promised : date or None
    begun : frozenset of str
    waits : mapping of str to str
        By task of the question, what it waits for until its first day, where a hold tells it.
    """
    problem, own = question.problem, promise.of(car)
    days = {name: question.at(own.by(chance)).date() for name, chance in CHANCES.items()}
    kept = None
    if promised is not None:
        kept = own.chance_by(((promised - question.first_day) + timedelta(days=1)).days * 1440.0)
    tasks = [task.task for task in problem.tasks if task.car == car]
    return PlannedCar(
        car=car,
        title=title,
        priority=problem.priority.get(car, 1.0),
        promised=promised,
        finish=question.at(plan.cars[car]),
        kept=kept,
        curve=own.curve_min(),
        finish_kept=own.chance_by(plan.cars[car]),
        draws=own.draws,
        goes_on=goes_on(own),
        late_because=tuple(
            LateBecause(**_named(question, one.task), days=round(one.days_earlier, 2))
            for one in own.drivers
        ),
        a_day_earlier=tuple(
            DayEarlier(person=one.person, hours=round(one.hours_a_day, 1)) for one in own.overtime
        ),
        hangs_on=tuple(
            _hangs_on(question, one, waits) for one in governors(problem, plan, tasks, held=begun)
        ),
        **days,
    )


def car_from_json(row: Mapping[str, Any]) -> PlannedCar:
    """The car that a kept plan tells."""
    days = {name: date.fromisoformat(row[name]) for name in CHANCES}
    return PlannedCar(
        **{
            **row,
            **days,
            "promised": date.fromisoformat(row["promised"]) if row["promised"] else None,
            "finish": datetime.fromisoformat(row["finish"]),
            "curve": tuple(row.get("curve", ())),
            "late_because": _rows(LateBecause, row.get("late_because", ())),
            "a_day_earlier": _rows(DayEarlier, row.get("a_day_earlier", ())),
            "hangs_on": tuple(
                HangsOn(**{**one, "before": tuple(one["before"]) if one["before"] else None})
                for one in row.get("hangs_on", ())
            ),
        }
    )


def _rows(kind: Any, rows: Sequence[Mapping[str, Any]]) -> tuple[Any, ...]:
    return tuple(kind(**one) for one in rows)


def _named(question: ShopQuestion, task: str) -> dict[str, str]:
    one = question.problem.named[task]
    return {"car": one.car, "task": own_name(one)}


def _hangs_on(question: ShopQuestion, one: Governor, waits: Mapping[str, str]) -> HangsOn:
    before = _named(question, one.before) if one.before else None
    return HangsOn(
        **_named(question, one.task),
        kind=one.kind,
        before=(before["car"], before["task"]) if before else None,
        of=waits.get(one.task, "") if one.kind == "day" else one.of,
    )
