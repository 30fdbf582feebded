"""The plan of the whole shop as pages show it and the record keeps it: days, not minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from typing import Any

from asfound.record.results.planned_car import Key, PlannedCar, car_from_json

__all__ = ["Key", "PlannedCar", "PlannedShop", "PlannedTask"]


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
