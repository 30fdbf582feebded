"""The plan of the whole shop as pages show it and the record keeps it: days, not minutes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from typing import Any

from asfound.plan import Past, Plan, Promise
from asfound.record.convert.past import NO_PAST, past_words, shared_words, spread_words
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.planned_car import Key, PlannedCar, car_from_json, planned_car

__all__ = ["Key", "PlannedCar", "PlannedShop", "PlannedTask", "planned_shop"]


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
class PlannedShop:
    """A plan of the whole shop.

    Parameters
    ----------
    made_at : datetime
        Local time from which on it was planned.
    days, days_least : float
        Working days, and the fewest that any plan could take.
    proved : bool
        Whether no plan can be better.
    gap : float or None
        Of several cars the share by which a plan might still be better; None where the last
        finish alone counts.
    tasks : tuple of PlannedTask
        In the order of their starts.
    cars : tuple of PlannedCar
        The weightiest first.
    links : tuple of (str, str, str)
        Car, task before, task after.
    people, bays : tuple of str
    past : tuple of str
        What finished work said of the hours, in words; none where they were taken as written.
    spread : str
        How far one further job comes out, in words.
    shared : str
        Where the correlation within a trade is from, in words.
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
    past: tuple[str, ...] = ()
    spread: str = ""
    shared: str = ""
    gap: float | None = None

    @property
    def by_key(self) -> Mapping[Key, PlannedTask]:
        """Tasks by car and name."""
        return {task.key: task for task in self.tasks}

    @property
    def span(self) -> tuple[date, date]:
        """First and last day; both that of the planning where there is no task."""
        days = [
            at.date() for task in self.tasks for at in (task.start, task.rests_until or task.end)
        ]
        return min(days, default=self.made_at.date()), max(days, default=self.made_at.date())

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
                "cars": tuple(car_from_json(row) for row in told["cars"]),
                "links": tuple((a, b, c) for a, b, c in told["links"]),
                "people": tuple(told["people"]),
                "bays": tuple(told["bays"]),
                "past": tuple(told.get("past", ())),
                "spread": told.get("spread", ""),
                "shared": told.get("shared", ""),
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
    waits: Mapping[str, str] | None = None,
    past: Past = NO_PAST,
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
    waits : mapping of str to str
        By task of the question, what it waits for until its first day, where a hold tells it.
    past : Past
        What the hours were learned from.
    """
    named = question.problem.named
    return PlannedShop(
        made_at=made_at,
        days=plan.days,
        days_least=plan.days_least,
        proved=plan.proved,
        tasks=tuple(_planned_tasks(question, plan, names=names, begun=begun, critical=critical)),
        cars=tuple(
            planned_car(
                question,
                plan,
                promise,
                car=car,
                title=title,
                promised=promised,
                begun=begun,
                waits=waits or {},
            )
            for car, (title, promised) in cars.items()
            if car in plan.cars
        ),
        links=tuple(
            (named[link.before].car, own_name(named[link.before]), own_name(named[link.after]))
            for link in question.problem.links
        ),
        people=tuple(person.person for person in question.problem.people),
        bays=tuple(bay.bay for bay in question.problem.bays),
        past=tuple(past_words(past)),
        spread=spread_words(past),
        shared=shared_words(past),
        gap=None if plan.cost is None else plan.gap,
    )


def _planned_tasks(
    question: ShopQuestion,
    plan: Plan,
    *,
    names: Mapping[str, str],
    begun: frozenset[str],
    critical: tuple[str, ...],
) -> Iterator[PlannedTask]:
    """Tasks in the order in which the plan places them."""
    rests = _rests(question, plan)
    for placed in plan.placed:
        task = question.problem.named[placed.task]
        yield PlannedTask(
            car=task.car,
            task=own_name(task),
            name=names.get(placed.task, ""),
            bay=", ".join(task.bays),
            start=question.at(placed.start_min),
            end=question.at(placed.end_min),
            people=placed.people,
            rests_until=rests.get(placed.task),
            begun=placed.task in begun,
            critical=placed.task in critical,
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
