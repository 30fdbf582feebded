"""Links as arrays, so that many histories are held to them at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from asfound.weigh.dates.days import first_of_month, month_and_day
from asfound.weigh.dates.finite import Closed
from asfound.weigh.dates.step import Step

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """That the day of one event bounds the day of another.

    The other's day is moved by ``before`` days, then by ``months``, where the day of the month
    is cut to the length of the month arrived in, less one if ``ahead``, and then by ``after``
    days.
    """

    event: int
    other: int
    months: int
    before: int
    after: int
    ahead: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """Months looked up by day, and days by month."""

    first_day: int
    month: Ints
    of_month: Ints
    first_month: int
    first: Ints
    length: Ints


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Lower and upper bounds on each event that the links of a part set, and their calendar."""

    lower: tuple[tuple[Bound, ...], ...]
    upper: tuple[tuple[Bound, ...], ...]
    calendar: Calendar


def bounds_of(part: Closed) -> Bounds:
    """Bounds that the links of a part set."""
    at = {name: i for i, name in enumerate(part.events)}
    lower, upper = list[Bound](), list[Bound]()
    for link in part.links:
        start, end = at[link.start], at[link.end]
        if link.least is not None:
            lower.append(_onward(end, start, link.least))
            upper.append(_back(start, end, link.least, within=True))
        if link.most is not None:
            upper.append(_onward(end, start, link.most))
            lower.append(_back(start, end, link.most, within=False))
    calendar = _calendar(min(part.firsts), max(part.lasts), [*lower, *upper])
    events_n = len(part.events)
    return Bounds(
        lower=_by_event(lower, events_n), upper=_by_event(upper, events_n), calendar=calendar
    )


def _by_event(bounds: Iterable[Bound], events_n: int) -> tuple[tuple[Bound, ...], ...]:
    mine: list[list[Bound]] = [[] for _ in range(events_n)]
    for bound in bounds:
        mine[bound.event].append(bound)
    return tuple(map(tuple, mine))


def _onward(event: int, other: int, step: Step) -> Bound:
    return Bound(
        event=event, other=other, months=step.months, before=0, after=step.days, ahead=True
    )


def _back(event: int, other: int, step: Step, *, within: bool) -> Bound:
    """``Step.least_reaching``, or ``Step.last_within``: the day before the next is reached."""
    return Bound(
        event=event,
        other=other,
        months=-step.months,
        before=within - step.days,
        after=-int(within),
        ahead=False,
    )


def _calendar(first: int, last: int, bounds: Sequence[Bound]) -> Calendar:
    """Calendar over all days from which a month is counted, and all months arrived in."""
    moved = [b for b in bounds if b.months]
    first += min((b.before for b in moved), default=0)
    last += max((b.before for b in moved), default=0)
    month, of_month = month_and_day(np.arange(first, last + 1, dtype=np.int64))
    least = int(month[0]) + min((b.months for b in moved), default=0)
    most = int(month[-1]) + max((b.months for b in moved), default=0)
    firsts = first_of_month(np.arange(least, most + 2, dtype=np.int64))
    return Calendar(
        first_day=first,
        month=month,
        of_month=of_month,
        first_month=least,
        first=firsts[:-1],
        length=np.diff(firsts),
    )


@dataclass(slots=True)
class Reach:
    """The nearest bound on each of some events, over many histories at once."""

    events: Ints
    """Events, in the order of the rows that ``of`` returns."""
    walls: Ints
    """First or last days of their windows."""
    calendar: Calendar
    nearest: np.ufunc
    _bounded: Ints = field(init=False)
    _starts: Ints = field(init=False)
    _others: Ints = field(init=False)
    _shifts: Ints = field(init=False)
    _counted: Ints = field(init=False)
    _before: Ints = field(init=False)
    _months: Ints = field(init=False)
    _cut: Ints = field(init=False)
    _after: Ints = field(init=False)

    def lay_out(self, bounds: Sequence[Sequence[Bound]]) -> Reach:
        """Put the bounds on each of these events into rows, those of one event together."""
        mine = [bound for of_event in bounds for bound in of_event]
        counts = _ints(map(len, bounds))
        self._bounded = np.flatnonzero(counts)
        self._starts = (np.cumsum(counts) - counts)[self._bounded]
        self._others = _ints(b.other for b in mine)
        self._shifts = _ints(b.before + b.after for b in mine)[:, None]
        self._counted = np.flatnonzero(_ints(b.months for b in mine))
        months = [b for b in mine if b.months]
        self._before = _ints(b.before - self.calendar.first_day for b in months)[:, None]
        self._months = _ints(b.months - self.calendar.first_month for b in months)[:, None]
        self._cut = _ints(b.ahead for b in months)[:, None]
        self._after = _ints(b.after for b in months)[:, None]
        return self

    def of(self, days: Ints) -> Ints:
        """Nearest bound on each event, per history; ``days`` has a row an event."""
        near = np.repeat(self.walls[:, None], days.shape[1], axis=1)
        if len(self._others):
            found = days.take(self._others, axis=0)
            found += self._shifts
            if len(self._counted):
                found[self._counted] = self._by_months(days[self._others[self._counted]])
            best = self.nearest.reduceat(found, self._starts, axis=0)
            near[self._bounded] = self.nearest(near[self._bounded], best)
        return near

    def _by_months(self, days: Ints) -> Ints:
        calendar = self.calendar
        at = days + self._before
        arrived = calendar.month[at] + self._months
        within = np.minimum(calendar.of_month[at] - 1, calendar.length[arrived] - self._cut)
        found: Ints = calendar.first[arrived] + within + self._after
        return found


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
    low = Reach(chosen, firsts[chosen], bounds.calendar, np.maximum)
    high = Reach(chosen, lasts[chosen], bounds.calendar, np.minimum)
    return (
        low.lay_out([list(filter(wanted, bounds.lower[event])) for event in events]),
        high.lay_out([list(filter(wanted, bounds.upper[event])) for event in events]),
    )


def _ints(values: Iterable[int]) -> Ints:
    return np.fromiter(values, dtype=np.int64)
