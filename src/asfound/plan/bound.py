"""Why no plan can finish sooner: the longest chain, and the work that waits for each trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from asfound.plan.draft import Draft
from asfound.plan.latest import latest_ends
from asfound.plan.reach import Reach
from asfound.plan.shop import Shop
from asfound.plan.task import Task

Ticks = npt.NDArray[np.int64]

MOST_POINTS = 30
"""Heads and latest ends that are looked at for each group of tasks."""
MOST_TRADES_IN_GROUPS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Tasks that want the same people or places.

    Parameters
    ----------
    tasks : tuple of Task
    work : ndarray of int64
        What each takes of them [tick times people or places].
    given : callable
        What they can give before a tick, all together.
    """

    tasks: tuple[Task, ...]
    work: Ticks
    given: Callable[[int], int]


def least_finish(
    shop: Shop, reach: Mapping[str, Reach], *, most: int, fixed: Draft | None = None
) -> int:
    """Tick before which no plan can finish.

    Parameters
    ----------
    shop : Shop
    reach : mapping of str to Reach
    most : int
        A finish that can be reached [tick].
    fixed : Draft or None
        Tasks that stand where they stand; their work is left out.

    Notes
    -----
    A finish is impossible if a task's latest end for it lies before its earliest end, or if, for
    some group, the tasks that cannot start before *r* and must end by *d* are more work than the
    people who have one of the group's trades, or the places of the bay, can give between *r* and
    *d*. The least finish that is not impossible in this sense is found by halving.
    """
    held = fixed or Draft(start={}, end={}, crews={})
    loose = tuple(t for t in shop.problem.tasks if t.task not in held.start)
    groups = groups_of(shop, loose)
    low = max((r.end + r.tail for r in reach.values()), default=0)
    high = most
    while low < high:
        middle = (low + high) // 2
        if _impossible(shop, reach, groups, middle, held):
            low = middle + 1
        else:
            high = middle
    return low


def _impossible(
    shop: Shop, reach: Mapping[str, Reach], groups: Sequence[Group], finish: int, held: Draft
) -> bool:
    latest = latest_ends(shop, finish, fixed=held)
    if latest is None or any(latest[name] < r.end for name, r in reach.items()):
        return True
    return any(_overfull(group, reach, latest) for group in groups)


def _overfull(group: Group, reach: Mapping[str, Reach], latest: Mapping[str, int]) -> bool:
    heads = np.array([reach[t.task].start for t in group.tasks], dtype=np.int64)
    ends = np.array([latest[t.task] for t in group.tasks], dtype=np.int64)
    some_heads, some_ends = _few(heads), _few(ends)
    by_head = np.array([group.given(int(t)) for t in some_heads])
    by_end = np.array([group.given(int(t)) for t in some_ends])
    inside = (heads >= some_heads[:, None]).astype(np.int64) * group.work
    asked = inside @ (ends[:, None] <= some_ends).astype(np.int64)
    room = np.maximum(by_end - by_head[:, None], 0)
    return bool((asked > room).any())


def _few(values: Ticks) -> Ticks:
    different = np.unique(values)
    if len(different) > MOST_POINTS:
        different = different[np.linspace(0, len(different) - 1, MOST_POINTS).astype(int)]
    return different


def groups_of(shop: Shop, loose: Sequence[Task]) -> list[Group]:
    """Groups of trades, and bays, with those of the tasks that want them."""
    return [*_of_trades(shop, loose), *_of_bays(shop, loose)]


def _of_trades(shop: Shop, loose: Sequence[Task]) -> Iterator[Group]:
    trades = sorted({task.trade for task in loose if task.people})
    sizes = range(1, len(trades) + 1)
    for size in sizes if len(trades) <= MOST_TRADES_IN_GROUPS else {1, len(trades)}:
        for several in combinations(trades, size):
            yield _of_people(shop, loose, several)


def _of_people(shop: Shop, loose: Sequence[Task], trades: tuple[str, ...]) -> Group:
    tasks = tuple(t for t in loose if t.people and t.trade in trades)
    crews = [crew for crew in shop.crews if crew.trades & set(trades)]

    def given(tick: int) -> int:
        return sum(len(crew.people) * crew.breaks.worked(tick) for crew in crews)

    work = [t.people * shop.ticks(t.hours.minutes) for t in tasks]
    return Group(tasks=tasks, work=np.array(work, dtype=np.int64), given=given)


def _of_bays(shop: Shop, loose: Sequence[Task]) -> Iterator[Group]:
    for bay in shop.problem.bays:
        tasks = tuple(t for t in loose if bay.bay in t.bays)
        work = [t.bays[bay.bay] * shop.ticks(t.hours.minutes) for t in tasks]
        if tasks:
            yield Group(
                tasks=tasks,
                work=np.array(work, dtype=np.int64),
                given=lambda tick, count=bay.count: tick * count,  # type: ignore[misc]
            )
