"""Fabric kept against money: every choice that nothing beats in both."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from asfound.base import InputError
from asfound.choose.answer import cost_of, kept_share
from asfound.choose.exactly import exact
from asfound.choose.model import Model
from asfound.choose.problem import Problem
from asfound.choose.refusal import refusal
from asfound.choose.search import Found, Progress, build, most_kept

_SPREAD = 24  # levels looked at first, so that a front cut short by time is spread evenly


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontPoint:
    """One choice of the front.

    Parameters
    ----------
    kept : float
        Share of the car's original fabric that is kept, 0–1.
    cost : float
        In the car's currency.
    options : mapping of str to str
        The chosen option by subject.
    within_brief : bool
        False if it costs more than the brief allows.
    """

    kept: float
    cost: float
    options: Mapping[str, str]
    within_brief: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """Choices in rising cost, each keeping more than the one before.

    Parameters
    ----------
    points : tuple of FrontPoint
        Both ends are present: the cheapest choice, and the one that keeps most.
    exact : bool
        True if every point is proved, and, where no number of points was asked for, none is
        missing.
    gap : float
        The most that any point might be short of, as a share of the car, 0–1.
    """

    points: tuple[FrontPoint, ...]
    exact: bool
    gap: float


def front(
    problem: Problem,
    *,
    points: int | None = None,
    within_brief: bool = False,
    time_limit_s: float = 120.0,
    progress: Progress | None = None,
) -> Front:
    """The front of fabric kept against cost.

    Parameters
    ----------
    problem : Problem
    points : int or None
        At most so many points, 2 or more: at cost levels spread evenly between the ends, then
        in the widest gaps while there are fewer. None asks for the complete front.
    within_brief : bool
        False lifts the brief's limit of cost, to show what more money would buy; True holds it.
    time_limit_s : float
        Seconds of search; a front cut short keeps both ends and is not exact.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop.

    Raises
    ------
    NoSolutionError
        If nothing satisfies the brief, or, with its limit of cost lifted, the rest of it.
    InputError
        If ``points`` is less than 2.

    Notes
    -----
    ε-constraint: at a level of cost, the most that can be kept for no more than it, and then
    the least cost at which so much is kept. That reaches every point of the front, also those
    that no weighting of the two aims would.

    References
    ----------
    Y. Haimes, L. Lasdon, D. Wismer, "On a bicriterion formulation of the problems of integrated
    system identification and system optimization", IEEE Trans. SMC 1 (1971) (from memory).
    """
    if points is not None and points < 2:
        raise InputError(field="points", got=points, allowed="2 or more, for the two ends")
    swept = problem if within_brief else without_cost_limit(problem)
    sweep = _Sweep(swept, limit=problem.brief.cost_max, time_limit_s=time_limit_s)
    if not sweep.ends():
        raise refusal(
            sweep.problem, proved=sweep.proved, time_limit_s=time_limit_s, progress=progress
        )
    complete = _fill(sweep, points, progress)
    if progress:
        progress(1.0)
    return sweep.result(complete=complete or points is not None)


class _Sweep:
    """The points found so far and the one model that finds them."""

    def __init__(self, problem: Problem, *, limit: float | None, time_limit_s: float) -> None:
        self.limit, self.problem = limit, problem
        self.model: Model = build(problem, time_limit_s=time_limit_s)
        self.most = self.model.limits().get(self.model.ledger.cost.name, (None, None, None))[2]
        self.total_s, self.proved, self.gap = time_limit_s, True, 0.0
        self.found: dict[tuple[int, int], Mapping[str, str]] = {}

    @property
    def left_s(self) -> float:
        return self.total_s - float(self.model.solver.getRunTime())

    def ends(self) -> bool:
        """Find the choice that keeps most and the cheapest; False if there is none."""
        self.model.allow(self.total_s / 4)
        if not self._add(most_kept(self.model, then_hours=False)):
            return False
        self.model.allow(self.total_s / 4)
        ledger = self.model.ledger
        self.model.aim((ledger.cost, 1))
        run = self.model.run(next(iter(self.found.values())))
        if run.options is None:
            self.proved = False
            return True
        self.proved = self.proved and run.ended
        self.at(ledger.total(ledger.cost, run.options), start=run.options)
        return True

    def at(self, level: int, start: Mapping[str, str] | None = None) -> tuple[int, int] | None:
        """The point of most kept for at most ``level`` steps of cost."""
        ledger = self.model.ledger
        self.model.hold(ledger.cost, most=level)
        if start is None:
            start = max(
                (item for item in self.found.items() if item[0][0] <= level),
                default=((0, 0), None),
            )[1]
        place = self._add(most_kept(self.model, start, then_hours=False))
        self.model.hold(ledger.cost, most=self.most)
        return place

    def _add(self, found: Found) -> tuple[int, int] | None:
        if found.options is None:
            self.proved = self.proved and found.proved
            return None
        ledger = self.model.ledger
        place = ledger.total(ledger.cost, found.options), ledger.total(ledger.kept, found.options)
        self.proved, self.gap = self.proved and found.proved, max(self.gap, found.gap)
        self.found[place] = found.options
        return place

    @property
    def distinct(self) -> int:
        """Number of points found, of equal cost or equal kept counted once."""
        return len(self._front())

    def _front(self) -> list[Mapping[str, str]]:
        front, most = [], -1
        for (_, kept), options in sorted(self.found.items(), key=lambda i: (i[0][0], -i[0][1])):
            if kept > most:
                front.append(options)
                most = kept
        return front

    def result(self, *, complete: bool) -> Front:
        points = [self._point(options) for options in self._front()]
        return Front(points=tuple(points), exact=complete and self.proved, gap=self.gap)

    def _point(self, options: Mapping[str, str]) -> FrontPoint:
        ledger = self.model.ledger
        cost = ledger.cost.value(ledger.total(ledger.cost, options))
        return FrontPoint(
            kept=kept_share(ledger, options),
            cost=cost_of(ledger, options),
            options=dict(sorted(options.items())),
            within_brief=self.limit is None or cost <= exact(self.limit),
        )


def without_cost_limit(problem: Problem) -> Problem:
    """The same problem with as much money as anyone likes."""
    return replace(problem, brief=replace(problem.brief, cost_max=None))


def _fill(sweep: _Sweep, points: int | None, progress: Progress | None) -> bool:
    """Find the points between the ends; True if none can be missing."""
    low, high = min(sweep.found)[0], max(sweep.found)[0]
    count = (points or _SPREAD) - 1
    levels = [low + (high - low) * i // count for i in range(1, count)]
    seen: dict[int, int] = {}
    for i, level in enumerate(levels):
        if level >= high or level < low or sweep.left_s <= 0:
            continue
        sweep.model.allow(sweep.left_s / (len(levels) - i))
        place = sweep.at(level)
        if place is not None:
            seen[place[0]] = max(level, seen.get(place[0], level))
        if progress:
            progress((i + 1) / len(levels) * 0.5)
    return _search_gaps(sweep, seen, points, progress)


def _search_gaps(
    sweep: _Sweep, seen: dict[int, int], points: int | None, progress: Progress | None
) -> bool:
    """Look in the widest unseen range of cost until there is none, or points enough.

    ``seen`` tells up to which level of cost nothing beats the point at a cost. True if no point
    of the front is missing.
    """
    whole = max(1, max(sweep.found)[0] - min(sweep.found)[0])
    while (unseen := max(_unseen(sweep, seen), default=None)) is not None:
        width, low, top = unseen
        if sweep.left_s <= 0 or (points is not None and sweep.distinct >= points):
            return False
        # Few points: the middle spreads them evenly. All: the top leaves no range behind it.
        level = top if points is None else low + (width + 1) // 2
        sweep.model.allow(sweep.left_s)
        place = sweep.at(level)
        if place is None:
            return False
        seen[place[0]] = max(level, seen.get(place[0], level))
        if progress:
            progress(min(0.99, 1.0 - width / whole))
    return True


def _unseen(sweep: _Sweep, seen: Mapping[int, int]) -> Iterator[tuple[int, int, int]]:
    """Ranges of cost between neighbours in which a point may still lie: width, low, top.

    From a point up to the level at which it was best there is nothing else.
    """
    costs = sorted({cost for cost, _ in sweep.found})
    for low, high in itertools.pairwise(costs):
        floor = max(low, seen.get(low, low))
        if floor < high - 1:
            yield high - 1 - floor, floor, high - 1
