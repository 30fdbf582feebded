"""Tasks, their hours, and what comes before what."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from asfound.base import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Hours of a task as three points, each for the whole team at it together.

    Parameters
    ----------
    low, likely, high : float
        Zero or more [h], in this order.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        points = (self.low, self.likely, self.high)
        if not all(math.isfinite(point) and point >= 0 for point in points):
            raise InputError(field="hours", got=points, allowed="finite and zero or more")
        if not self.low <= self.likely <= self.high:
            raise InputError(field="hours", got=points, allowed="low ≤ likely ≤ high")

    @classmethod
    def sure(cls, hours: float) -> Hours:
        """Hours without doubt."""
        return cls(low=hours, likely=hours, high=hours)

    @property
    def minutes(self) -> int:
        """Likely hours in whole minutes; work of any length takes a minute at least."""
        return max(round(self.likely * 60), 1) if self.likely > 0 else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One piece of work, done without a break but for nights, days off and absences.

    Parameters
    ----------
    task : str
    hours : Hours
    trade : str
        Each of its people has this trade.
    people : int
        How many work on it at the same time; zero where the shop only has to be open.
    bays : mapping of str to int
        Places that it holds from its start to its end, nights included, by kind of bay.
    not_before_min : int
        No start before it [min from the plan's first midnight].
    due_min : int or None
        It must have ended by then [min].
    car : str
    kind : str
        Kind of job, by which finished work of the same kind is found; empty for none.
    doubt_log : float
        Standard deviation of the log of a factor on its hours that all tasks of its trade share.
    learned : float
        Factor of the workshop's past that is in its hours already; 1 for none.
    own_log : float
        The same of a factor of its own: what jobs spread beyond their three points.
    """

    task: str
    hours: Hours
    trade: str = ""
    people: int = 1
    bays: Mapping[str, int] = field(default_factory=dict)
    not_before_min: int = 0
    due_min: int | None = None
    car: str = ""
    kind: str = ""
    doubt_log: float = 0.0
    own_log: float = 0.0
    learned: float = 1.0

    def __post_init__(self) -> None:
        for name in ("doubt_log", "own_log"):
            got = getattr(self, name)
            if not (math.isfinite(got) and got >= 0):
                raise InputError(field=name, got=got, allowed="zero or more")
        if not (math.isfinite(self.learned) and self.learned > 0):
            raise InputError(field="learned", got=self.learned, allowed="above zero")
        if self.people < 0:
            raise InputError(field="people", got=self.people, allowed="zero or more")
        if self.not_before_min < 0:
            raise InputError(
                field="not_before_min", got=self.not_before_min, allowed="zero or more"
            )
        if any(places < 1 for places in self.bays.values()):
            raise InputError(field="bays", got=dict(self.bays), allowed="one place or more each")


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLink:
    """``after`` starts when ``before`` has ended and ``lag_min`` [min by the clock] have passed."""

    before: str
    after: str
    lag_min: int = 0

    def __post_init__(self) -> None:
        if self.lag_min < 0:
            raise InputError(field="lag_min", got=self.lag_min, allowed="zero or more")
