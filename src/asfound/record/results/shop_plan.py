"""The plan of the whole shop as pages show it and the record keeps it: days, not minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from asfound.plan import Plan, Promise
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.plan import CHANCES

Key = tuple[str, str]
"""Car and task."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTask:
    """One task in its place.

    Parameters
    ----------
    car, task, name, bay : str
    start, end : datetime
        Local time of the workshop, without a zone.
    people : tuple of str
    rests_until : datetime or None
        Until when what follows has to wait: drying, curing.
    begun, critical : bool
    sequence : int
        How often its place was changed since it was first planned.
    changed_at : str
        When that was last, ISO 8601 in UTC; empty for a plan that nobody adopted.
    """

    car: str
    task: str
    name: str
    bay: str
    start: datetime
    end: datetime
    people: tuple[str, ...]
    rests_until: datetime | None = None
    begun: bool = False
    critical: bool = False
    sequence: int = 0
    changed_at: str = ""

    @property
    def key(self) -> Key:
        """Car and task."""
        return self.car, self.task

    @property
    def place(self) -> tuple[datetime, datetime, tuple[str, ...], str]:
        """What a change of the plan may change."""
        return self.start, self.end, self.people, self.bay


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCar:
    """One car of the plan: its finish, the days to promise, and what was promised.

    ``kept`` is the chance, 0–1, that it is done by the end of the promised day.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedShop:
    """A plan of the whole shop.

    Parameters
    ----------
    made_at : datetime
        Local time from which on it was planned.
    days, days_least : float
        Working days, and the fewest that any plan could take.
    proved : bool
    tasks : tuple of PlannedTask
        In the order of their starts.
    cars : tuple of PlannedCar
        The weightiest first.
    links : tuple of (str, str, str)
        Car, task before, task after.
    people, bays : tuple of str
    """

    made_at: datetime
    days: float
    days_least: float
    proved: bool
    tasks: tuple[PlannedTask, ...]
    cars: tuple[PlannedCar, ...]
    links: tuple[tuple[str, str, str], ...]
    people: tuple[str, ...]
    bays: tuple[str, ...]

    @property
    def by_key(self) -> Mapping[Key, PlannedTask]:
        """Tasks by car and name."""
        return {task.key: task for task in self.tasks}

    @property
    def titles(self) -> Mapping[str, str]:
        """Names of the cars for people."""
        return {car.car: car.title for car in self.cars}

    def to_json(self) -> dict[str, Any]:
        """The plan in plain types."""
        told: dict[str, Any] = _plain(asdict(self))
        return told

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> PlannedShop:
        """The plan that ``to_json`` told."""
        return cls(
            **{
                **told,
                "made_at": datetime.fromisoformat(told["made_at"]),
                "tasks": tuple(_task(row) for row in told["tasks"]),
                "cars": tuple(_car(row) for row in told["cars"]),
                "links": tuple((a, b, c) for a, b, c in told["links"]),
                "people": tuple(told["people"]),
                "bays": tuple(told["bays"]),
            }
        )

    def numbered(self, before: PlannedShop | None, *, at: str) -> PlannedShop:
        """The same with each task's ``sequence`` and ``changed_at`` carried on from ``before``."""
        known = before.by_key if before else {}
        return replace(self, tasks=tuple(_numbered(t, known.get(t.key), at) for t in self.tasks))


def planned_shop(
    question: ShopQuestion,
    plan: Plan,
    promise: Promise,
    critical: tuple[str, ...],
    *,
    names: Mapping[str, str],
    cars: Mapping[str, tuple[str, date | None]],
    begun: frozenset[str],
    made_at: datetime,
) -> PlannedShop:
    """A plan of the core with its days.

    Parameters
    ----------
    question, plan, promise, critical
        What was asked, and what the core answered.
    names : mapping of str to str
        What each task of the question is, in words.
    cars : mapping of str to (str, date or None)
        Name for people and promised day of each car, the weightiest first.
    begun : frozenset of str
    made_at : datetime
    """
    named = question.problem.named
    rests = _rests(question, plan)
    return PlannedShop(
        made_at=made_at,
        days=plan.days,
        days_least=plan.days_least,
        proved=plan.proved,
        tasks=tuple(
            PlannedTask(
                car=named[p.task].car,
                task=own_name(named[p.task]),
                name=names.get(p.task, ""),
                bay=", ".join(named[p.task].bays),
                start=question.at(p.start_min),
                end=question.at(p.end_min),
                people=p.people,
                rests_until=rests.get(p.task),
                begun=p.task in begun,
                critical=p.task in critical,
            )
            for p in plan.placed
        ),
        cars=tuple(
            _planned_car(question, plan, promise, car, title, promised)
            for car, (title, promised) in cars.items()
            if car in plan.cars
        ),
        links=tuple(
            (named[link.before].car, own_name(named[link.before]), own_name(named[link.after]))
            for link in question.problem.links
        ),
        people=tuple(person.person for person in question.problem.people),
        bays=tuple(bay.bay for bay in question.problem.bays),
    )


def _planned_car(
    question: ShopQuestion,
    plan: Plan,
    promise: Promise,
    car: str,
    title: str,
    promised: date | None,
) -> PlannedCar:
    own = promise.of(car) if promise.cars else promise
    days = {name: question.at(own.by(chance)).date() for name, chance in CHANCES.items()}
    kept = None
    if promised is not None:
        kept = own.chance_by(((promised - question.first_day) + timedelta(days=1)).days * 1440.0)
    return PlannedCar(
        car=car,
        title=title,
        priority=question.problem.priority.get(car, 1.0),
        promised=promised,
        finish=question.at(plan.cars[car]),
        kept=kept,
        **days,
    )


def _rests(question: ShopQuestion, plan: Plan) -> dict[str, datetime]:
    """Until when what follows each task waits by the clock, where it does."""
    ends = {placed.task: placed.end_min for placed in plan.placed}
    lags: dict[str, int] = {}
    for link in question.problem.links:
        lags[link.before] = max(lags.get(link.before, 0), link.lag_min)
    return {task: question.at(ends[task] + lag) for task, lag in lags.items() if lag}


def _numbered(task: PlannedTask, before: PlannedTask | None, at: str) -> PlannedTask:
    if before is None:
        return replace(task, sequence=0, changed_at=at)
    if before.place == task.place and before.name == task.name:
        return replace(task, sequence=before.sequence, changed_at=before.changed_at)
    return replace(task, sequence=before.sequence + 1, changed_at=at)


def _plain(told: Any) -> Any:
    if isinstance(told, dict):
        return {name: _plain(value) for name, value in told.items()}
    if isinstance(told, list | tuple):
        return [_plain(value) for value in told]
    return told.isoformat() if isinstance(told, date) else told


def _task(row: Mapping[str, Any]) -> PlannedTask:
    rests = row["rests_until"]
    times = {name: datetime.fromisoformat(row[name]) for name in ("start", "end")}
    rests_until = datetime.fromisoformat(rests) if rests else None
    return PlannedTask(
        **{**row, **times, "people": tuple(row["people"]), "rests_until": rests_until}
    )


def _car(row: Mapping[str, Any]) -> PlannedCar:
    days = {name: date.fromisoformat(row[name]) for name in CHANCES}
    promised = date.fromisoformat(row["promised"]) if row["promised"] else None
    finish = datetime.fromisoformat(row["finish"])
    return PlannedCar(**{**row, **days, "promised": promised, "finish": finish})
