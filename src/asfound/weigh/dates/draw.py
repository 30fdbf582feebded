"""Histories drawn at random, where there are too many to count."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from asfound.weigh.dates.finite import Closed, joined
from asfound.weigh.dates.reaches import Bounds, Ints, Reach, bounds_of, reaches

DRAWS = 20_000
"""Histories drawn of a part of up to 200 events."""
_MOST_DAYS_DRAWN = 4_000_000
_WALKS = 100
"""Histories that are walked side by side, none knowing of the others."""
_GROUPS = 10
"""The walks are parted into so many groups; their scatter gives the error."""
_SLACKS_DAYS = (0, 31, 366, 3660)
_MOST_FLOCKS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Days of events in histories drawn with equal chance.

    Parameters
    ----------
    days : tuple of tuple of int
        Per event the day by which each asked share of the histories has passed it.
    u_days : tuple of tuple of float
        Standard errors of those days, from groups of walks that know nothing of each other.
    draws_n : int
    """

    days: tuple[tuple[int, ...], ...]
    u_days: tuple[tuple[float, ...], ...]
    draws_n: int


def draw(part: Closed, *, levels: Sequence[float], rng: Generator) -> Drawn:
    """Days of events in histories drawn with equal chance from all consistent ones.

    Parameters
    ----------
    part : Closed
    levels : sequence of float
        Shares asked for, between 0 and 1.
    rng : Generator

    Notes
    -----
    Gibbs sampling: each event in turn takes a day drawn evenly from those that its neighbours
    leave it; events without a link between them move together. Events that links hold close to
    each other also move as a flock, all by one number of days, which is taken back where a
    calendar month inside the flock would break. The walks begin at histories spread evenly
    from the earliest to the latest, and their first third is thrown away.

    References
    ----------
    Gelfand and Smith, Sampling-based approaches to calculating marginal densities, Journal of
    the American Statistical Association 85 (1990), 398-409.
    """
    walks_n, keep_n = _sizes(len(part.events))
    walks = _Walks(part, rng)
    walks.begin(walks_n)
    kept = np.empty((len(part.events), keep_n, walks_n), dtype=np.int64)
    for turn in range(-(keep_n // 2), keep_n):
        walks.turn()
        if turn >= 0:
            kept[:, turn] = walks.days
    return _summed_up(kept, levels)


def _sizes(events_n: int) -> tuple[int, int]:
    """Number of walks, and of turns kept of each."""
    draws = min(DRAWS, _MOST_DAYS_DRAWN // events_n)
    walks = max(2 * _GROUPS, min(_WALKS, draws // 100) // _GROUPS * _GROUPS)
    return walks, max(60, draws // walks)


def _summed_up(kept: Ints, levels: Sequence[float]) -> Drawn:
    events_n, turns, walks = kept.shape
    by_group = kept.reshape(events_n, turns, _GROUPS, walks // _GROUPS).swapaxes(1, 2)
    of_groups = _passed(by_group.reshape(events_n, _GROUPS, -1), levels)
    of_all = _passed(kept.reshape(events_n, -1), levels)
    u = of_groups.std(axis=1, ddof=1) / np.sqrt(_GROUPS)
    return Drawn(
        days=tuple(tuple(map(int, row)) for row in of_all),
        u_days=tuple(tuple(map(float, row)) for row in u),
        draws_n=turns * walks,
    )


def _passed(days: Ints, levels: Sequence[float]) -> Ints:
    """Days by which each share of the draws, which are the last axis, has passed."""
    places = [max(math.ceil(level * days.shape[-1]) - 1, 0) for level in levels]
    return np.partition(days, places, axis=-1)[..., places]


@dataclass(slots=True)
class _Walks:
    part: Closed
    rng: Generator
    days: Ints = field(init=False)
    bounds: Bounds = field(init=False)
    colours: list[tuple[Reach, Reach]] = field(init=False)
    flocks: list[_Flock] = field(init=False)

    def __post_init__(self) -> None:
        self.bounds = bounds_of(self.part)
        groups = _apart(len(self.part.events), self.bounds)
        self.colours = [reaches(self.part, self.bounds, group) for group in groups]
        self.flocks = [_flock(self.part, self.bounds, f) for f in _close_events(self.part)]

    def begin(self, walks_n: int) -> None:
        """Histories between the earliest and the latest, raised to where every link holds."""
        firsts = np.array(self.part.firsts)[:, None]
        widths = np.array(self.part.widths)[:, None]
        along = (np.arange(walks_n) + 0.5) / walks_n
        self.days = firsts + np.floor((widths - 1) * self.rng.permutation(along)).astype(np.int64)
        rose = True
        while rose:
            rose = False
            for low, _ in self.colours:
                raised = np.maximum(self.days[low.events], low.of(self.days))
                rose |= bool((raised != self.days[low.events]).any())
                self.days[low.events] = raised

    def turn(self) -> None:
        """Let every event move once, and every flock."""
        for low, high in self.colours:
            lows = low.of(self.days)
            self.days[low.events] = lows + self._evenly(high.of(self.days) - lows)
        for flock in self.flocks:
            own = self.days[flock.events]
            least = (flock.low.of(self.days) - own).max(axis=0)
            most = (flock.high.of(self.days) - own).min(axis=0)
            moved = self.days.copy() if flock.inside else self.days
            moved[flock.events] = own + least + self._evenly(most - least)
            if flock.inside:
                holds = flock.holds(moved)
                self.days[flock.events] = np.where(holds, moved[flock.events], own)

    def _evenly(self, span: Ints) -> Ints:
        """Whole numbers from 0 to ``span``, each with equal chance."""
        return (self.rng.random(span.shape) * (span + 1)).astype(np.int64)


@dataclass(frozen=True, slots=True)
class _Flock:
    """Events that move together; ``inside`` are reaches that a month inside could break."""

    events: Ints
    low: Reach
    high: Reach
    inside: tuple[Reach, Reach] | None

    def holds(self, days: Ints) -> NDArray[np.bool_]:
        assert self.inside is not None
        low, high = self.inside
        own = days[self.events]
        within = (own >= low.of(days)) & (own <= high.of(days))
        return np.asarray(within.all(axis=0))


def _flock(part: Closed, bounds: Bounds, events: Sequence[int]) -> _Flock:
    members = set(events)
    low, high = reaches(part, bounds, events, wanted=lambda b: b.other not in members)
    months = [b for e in events for b in bounds.lower[e] if b.months and b.other in members]
    inside = None
    if months:
        inside = reaches(
            part, bounds, events, wanted=lambda b: bool(b.months) and b.other in members
        )
    return _Flock(np.array(events), low, high, inside)


def _apart(events_n: int, bounds: Bounds) -> list[list[int]]:
    """Events parted so that no link joins two of one group; those with most links first."""
    near: list[set[int]] = [set() for _ in range(events_n)]
    for bound in (bound for of_event in bounds.lower for bound in of_event):
        near[bound.event].add(bound.other)
        near[bound.other].add(bound.event)
    groups: list[list[int]] = []
    group_of: dict[int, int] = {}
    for event in sorted(range(events_n), key=lambda e: (-len(near[e]), e)):
        taken = {group_of[other] for other in near[event] if other in group_of}
        group = next(g for g in range(len(groups) + 1) if g not in taken)
        if group == len(groups):
            groups.append([])
        groups[group].append(event)
        group_of[event] = group
    return groups


def _close_events(part: Closed) -> Iterable[tuple[int, ...]]:
    """Events that links hold within so many days of each other, the closest first."""
    at = {name: i for i, name in enumerate(part.events)}
    slack_days = {
        link: link.most.shifts()[1] - link.least.shifts()[0]
        for link in part.links
        if link.least is not None and link.most is not None
    }
    flocks: dict[tuple[int, ...], None] = {}
    for slack in _SLACKS_DAYS:
        close = [link for link, days in slack_days.items() if days <= slack + 3]
        for names, _ in joined(part.events, close):
            if len(names) > 1:
                flocks[tuple(at[name] for name in names)] = None
    flocks[tuple(range(len(part.events)))] = None
    return list(flocks)[:_MOST_FLOCKS]
