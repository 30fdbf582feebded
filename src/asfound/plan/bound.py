"""Why no plan can finish sooner: the longest chain, and the work that waits for each trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations

import numpy as np
import numpy.typing as npt

from asfound.plan.reach import Reach
from asfound.plan.shop import Shop
from asfound.plan.task import Task

Ticks = npt.NDArray[np.int64]

MOST_POINTS = 40
"""Heads and tails that are looked at for each group of tasks."""
MOST_TRADES_IN_GROUPS = 6


def least_finish(shop: Shop, reach: Mapping[str, Reach]) -> int:
    """Tick before which no plan can finish.

    Notes
    -----
    Of the tasks of a group that cannot start before *r* and must be followed by *q* ticks, the
    work is Σ people · ticks; the people who have one of the group's trades must do it between *r*
    and the finish less *q*. The same holds for the places of a bay. Each pair (r, q) of each
    group gives a bound, and so does the longest chain of links.
    """
    bounds = [r.end + r.tail for r in reach.values()]
    bounds += [_work_bound(shop, group, reach) for group in _groups(shop)]
    bounds += [_bay_bound(shop, bay.bay, bay.count, reach) for bay in shop.problem.bays]
    return max(bounds, default=0)


def _groups(shop: Shop) -> Iterator[tuple[str, ...]]:
    trades = sorted({task.trade for task in shop.problem.tasks if task.people})
    sizes = range(1, len(trades) + 1) if len(trades) <= MOST_TRADES_IN_GROUPS else (1, len(trades))
    for size in sizes:
        yield from combinations(trades, size)


def _work_bound(shop: Shop, trades: tuple[str, ...], reach: Mapping[str, Reach]) -> int:
    tasks = [t for t in shop.problem.tasks if t.people and t.trade in trades]
    work = np.array([t.people * shop.ticks(t.hours.minutes) for t in tasks], dtype=np.int64)
    crews = [crew for crew in shop.crews if crew.trades & set(trades)]

    def worked(tick: int) -> int:
        """Ticks that these people work before a tick, all together."""
        return sum(len(crew.people) * crew.breaks.worked(tick) for crew in crews)

    def soonest(start: int, amount: int) -> int:
        """First tick by which these people can have done an amount from a start on."""
        done = worked(start)
        low, high = start, shop.total
        while low < high:
            middle = (low + high) // 2
            if worked(middle) - done >= amount:
                high = middle
            else:
                low = middle + 1
        return low

    return _over_pairs(tasks, work, reach, soonest)


def _bay_bound(shop: Shop, bay: str, count: int, reach: Mapping[str, Reach]) -> int:
    tasks = [t for t in shop.problem.tasks if bay in t.bays]
    work = np.array([t.bays[bay] * shop.ticks(t.hours.minutes) for t in tasks], dtype=np.int64)
    return _over_pairs(tasks, work, reach, lambda start, amount: start - (-amount // count))


def _over_pairs(
    tasks: Sequence[Task],
    work: Ticks,
    reach: Mapping[str, Reach],
    soonest: Callable[[int, int], int],
) -> int:
    """The best bound over pairs of a head and a tail, in ticks."""
    if not tasks:
        return 0
    heads = np.array([reach[t.task].start for t in tasks], dtype=np.int64)
    tails = np.array([reach[t.task].tail for t in tasks], dtype=np.int64)
    best = 0
    for start in _few(heads):
        for tail in _few(tails):
            amount = int(work[(heads >= start) & (tails >= tail)].sum())
            if amount:
                best = max(best, soonest(start, amount) + tail)
    return best


def _few(values: Ticks) -> list[int]:
    different = np.unique(values)
    if len(different) > MOST_POINTS:
        different = different[np.linspace(0, len(different) - 1, MOST_POINTS).astype(int)]
    return [int(value) for value in different]
