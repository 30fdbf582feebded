"""Links as arrays, so that many histories are held to them at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from asfound.weigh.dates.finite import Closed
from asfound.weigh.dates.step import Step

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """That the day of one event bounds the day of another.

    ``shift`` is added to the other's day; where ``table`` is not negative, the day is looked up
    in a row of the tables instead.
    """

    event: int
    other: int
    shift: int = 0
    table: int = -1


@dataclass(slots=True)
class Tables:
    """Steps of months looked up by day, a row a step and a direction."""

    first: int
    last: int
    rows: list[Ints] = field(default_factory=list)
    _known: dict[tuple[Step, str], int] = field(default_factory=dict)

    def row(self, step: Step, way: str) -> int:
        """Row of the step: ``ahead``, or back as ``reaching`` or ``within``."""
        if (step, way) not in self._known:
            days = np.arange(self.first, self.last + 1, dtype=np.int64)
            ahead = step.ahead_of(days)
            if way == "reaching":
                ahead = self.first + np.searchsorted(ahead, days, side="left")
            elif way == "within":
                ahead = self.first + np.searchsorted(ahead, days, side="right") - 1
            self._known[step, way] = len(self.rows)
            self.rows.append(ahead)
        return self._known[step, way]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Lower and upper bounds that the links of a part set, and the tables they are looked up in.

    Parameters
    ----------
    lower, upper : tuple of Bound
    flat : ndarray of int
        The tables, row after row; each is ``length`` long and begins at day ``first``.
    first, length : int
    """

    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]
    flat: Ints
    first: int
    length: int


def bounds_of(part: Closed) -> Bounds:
    """Bounds that the links of a part set."""
    at = {name: i for i, name in enumerate(part.events)}
    tables = Tables(first=min(part.firsts), last=max(part.lasts))
    lower, upper = list[Bound](), list[Bound]()
    for link in part.links:
        start, end = at[link.start], at[link.end]
        if link.least is not None:
            lower.append(_bound(end, start, link.least, "ahead", tables))
            upper.append(_bound(start, end, link.least, "within", tables))
        if link.most is not None:
            upper.append(_bound(end, start, link.most, "ahead", tables))
            lower.append(_bound(start, end, link.most, "reaching", tables))
    return Bounds(
        lower=tuple(lower),
        upper=tuple(upper),
        flat=np.concatenate(tables.rows) if tables.rows else np.zeros(0, dtype=np.int64),
        first=tables.first,
        length=tables.last - tables.first + 1,
    )


def _bound(event: int, other: int, step: Step, way: str, tables: Tables) -> Bound:
    if step.months:
        return Bound(event=event, other=other, table=tables.row(step, way))
    return Bound(event=event, other=other, shift=step.days if way == "ahead" else -step.days)


@dataclass(slots=True)
class Reach:
    """The nearest bound on each of some events, over many histories at once."""

    events: Ints
    """Events, in the order of the rows that ``of`` returns."""
    walls: Ints
    """First or last days of their windows."""
    bounds: Bounds
    nearest: np.ufunc
    _bounded: Ints = field(init=False)
    _others: Ints = field(init=False)
    _shifts: Ints = field(init=False)
    _starts: Ints = field(init=False)
    _looked_up: Ints = field(init=False)
    _rows: Ints = field(init=False)

    def lay_out(self, bounds: Iterable[Bound]) -> Reach:
        """Put the bounds on these events into rows, those of one event together."""
        place = {int(event): i for i, event in enumerate(self.events)}
        mine = sorted((b for b in bounds if b.event in place), key=lambda b: place[b.event])
        owners = _ints(place[b.event] for b in mine)
        self._bounded, self._starts = np.unique(owners, return_index=True)
        self._others = _ints(b.other for b in mine)
        self._shifts = _ints(b.shift for b in mine)[:, None]
        self._looked_up = np.flatnonzero(_ints(b.table for b in mine) >= 0)
        rows = _ints(b.table for b in mine)[self._looked_up, None]
        self._rows = rows * self.bounds.length - self.bounds.first
        return self

    def of(self, days: Ints) -> Ints:
        """Nearest bound on each event, per history; ``days`` has a row an event."""
        near = np.repeat(self.walls[:, None], days.shape[1], axis=1)
        if len(self._others):
            found = days[self._others] + self._shifts
            if len(self._looked_up):
                asked = self._rows + days[self._others[self._looked_up]]
                found[self._looked_up] = self.bounds.flat[asked]
            best = self.nearest.reduceat(found, self._starts, axis=0)
            near[self._bounded] = self.nearest(near[self._bounded], best)
        return near


def reaches(
    part: Closed,
    bounds: Bounds,
    events: Sequence[int],
    *,
    wanted: Callable[[Bound], bool] = lambda _: True,
) -> tuple[Reach, Reach]:
    """Lower and upper reach of some events, by the bounds wanted."""
    chosen = _ints(events)
    firsts, lasts = _ints(part.firsts), _ints(part.lasts)
    low = Reach(chosen, firsts[chosen], bounds, np.maximum)
    high = Reach(chosen, lasts[chosen], bounds, np.minimum)
    return low.lay_out(filter(wanted, bounds.lower)), high.lay_out(filter(wanted, bounds.upper))


def _ints(values: Iterable[int]) -> Ints:
    return np.fromiter(values, dtype=np.int64)
