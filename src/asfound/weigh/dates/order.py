"""What came before what, as a diagram: later above earlier, redundant links dropped."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from asfound.weigh.dates.history import Link


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Order of events as the links tell it.

    Parameters
    ----------
    groups : tuple of tuple of str
        Events that stand in an order with another. Those of one group are on one day, or the
        links go round in a circle through them.
    over : tuple of tuple of int
        Pairs (later, earlier) of groups that no third group stands between.
    level : tuple of int
        Per group the number of groups that surely lie below it, one on the other; the group of
        a higher level can be drawn above.
    """

    groups: tuple[tuple[str, ...], ...]
    over: tuple[tuple[int, int], ...]
    level: tuple[int, ...]


def order_of(links: Sequence[Link]) -> Order:
    """Order that the links tell, without the links that follow from others.

    Notes
    -----
    A link whose least distance is zero or more puts its end on or after its start; one whose
    greatest distance is zero or less the other way about. The transitive reduction of what is
    left after joining circles is unique.

    References
    ----------
    Aho, Garey and Ullman, The transitive reduction of a directed graph, SIAM Journal on
    Computing 1 (1972), 131-137.
    """
    pairs = list(dict.fromkeys(_earlier_later(links)))
    names = list(dict.fromkeys(name for pair in pairs for name in pair))
    if not names:
        return Order(groups=(), over=(), level=())
    group_of = _groups(names, pairs)
    groups: list[list[str]] = [[] for _ in range(max(group_of.values()) + 1)]
    for name in names:
        groups[group_of[name]].append(name)
    above: list[set[int]] = [set() for _ in groups]
    for earlier, later in pairs:
        if group_of[earlier] != group_of[later]:
            above[group_of[earlier]].add(group_of[later])
    upward = _upward(above)
    return Order(
        groups=tuple(map(tuple, groups)),
        over=tuple(sorted(_reduced(above, upward))),
        level=_levels(above, upward),
    )


def _earlier_later(links: Iterable[Link]) -> Iterable[tuple[str, str]]:
    for link in links:
        if link.least is not None and link.least.shifts()[0] >= 0:
            yield link.start, link.end
        if link.most is not None and link.most.shifts()[1] <= 0:
            yield link.end, link.start


def _groups(names: Sequence[str], pairs: Sequence[tuple[str, str]]) -> dict[str, int]:
    """Group of every event, numbered in the order in which the events are met."""
    at = {name: i for i, name in enumerate(names)}
    rows, columns = zip(*((at[a], at[b]) for a, b in pairs), strict=True)
    graph = coo_array((np.ones(len(pairs)), (rows, columns)), shape=(len(names), len(names)))
    _, labels = connected_components(graph.tocsr(), directed=True, connection="strong")
    numbers: dict[int, int] = {}
    return {n: numbers.setdefault(int(labels[at[n]]), len(numbers)) for n in names}


def _upward(above: Sequence[set[int]]) -> list[int]:
    """Groups from the earliest up: each after all that lie below it."""
    below_n = [0] * len(above)
    for lying_above in above:
        for later in lying_above:
            below_n[later] += 1
    upward = [g for g, n in enumerate(below_n) if n == 0]
    for group in upward:
        for later in sorted(above[group]):
            below_n[later] -= 1
            if below_n[later] == 0:
                upward.append(later)
    return upward


def _reduced(above: Sequence[set[int]], upward: Sequence[int]) -> Iterable[tuple[int, int]]:
    """Pairs that no longer way joins; what lies above a group is kept as the bits of a number."""
    place = {group: i for i, group in enumerate(upward)}
    reach = [0] * len(above)
    for group in reversed(upward):
        seen = 0
        for later in sorted(above[group], key=place.__getitem__):
            if not seen >> later & 1:
                yield later, group
                seen |= reach[later] | 1 << later
        reach[group] = seen


def _levels(above: Sequence[set[int]], upward: Sequence[int]) -> tuple[int, ...]:
    level = [0] * len(above)
    for group in upward:
        for later in above[group]:
            level[later] = max(level[later], level[group] + 1)
    return tuple(level)
