"""How the days of each event share out over all consistent histories, counted exactly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from asfound.weigh.dates.finite import Closed
from asfound.weigh.dates.history import Link

Shares = NDArray[np.float64]


def count_tree(part: Closed) -> tuple[Shares, ...]:
    """Share of all consistent histories that put each event on each day of its window.

    Parameters
    ----------
    part : Closed
        Its links must run in no circle.

    Returns
    -------
    tuple of ndarray
        Per event the shares of its days, in order; they sum to one.

    Notes
    -----
    With every consistent history counted once, the histories on either side of an event share
    nothing but its day, so they are counted apart and multiplied: the sum-product rule on a
    tree. What a neighbour allows is a run of days, so its count is a difference of two running
    sums. Counts are scaled to stay within floating point; the shares do not change.

    References
    ----------
    Pearl, Probabilistic Reasoning in Intelligent Systems (1988), chapter 4.
    """
    return _Tree(part).shares()


@dataclass(slots=True)
class _Tree:
    part: Closed
    near: dict[str, dict[str, list[Link]]] = field(default_factory=dict)
    first: dict[str, int] = field(default_factory=dict)
    width: dict[str, int] = field(default_factory=dict)
    told: dict[tuple[str, str], Shares] = field(default_factory=dict)

    def __post_init__(self) -> None:
        part = self.part
        self.first = dict(zip(part.events, part.firsts, strict=True))
        self.width = dict(zip(part.events, part.widths, strict=True))
        self.near = {name: {} for name in part.events}
        for link in part.links:
            self.near[link.start].setdefault(link.end, []).append(link)
            self.near[link.end].setdefault(link.start, []).append(link)

    def shares(self) -> tuple[Shares, ...]:
        downward = self._downward()
        for name, parent in reversed(downward):
            if parent:
                self._tell(name, parent)
        for name, parent in downward:
            self._tell_children(name, parent)
        return tuple(self._scaled(self._count(name), to_sum=True) for name in self.part.events)

    def _downward(self) -> list[tuple[str, str]]:
        """Each event with its parent, which comes before it."""
        order, waiting = list[tuple[str, str]](), [(self.part.events[0], "")]
        while waiting:
            name, parent = waiting.pop()
            order.append((name, parent))
            waiting.extend((child, name) for child in self.near[name] if child != parent)
        return order

    def _count(self, name: str, *, without: str = "") -> Shares:
        counts = np.ones(self.width[name])
        for other in self.near[name]:
            if other != without:
                counts *= self.told[other, name]
        return counts

    def _tell_children(self, name: str, parent: str) -> None:
        """What each child hears holds all but its own word, by products from both ends."""
        heard = [other for other in self.near[name] if other != parent]
        before = [np.ones(self.width[name])]
        if parent:
            before[0] = before[0] * self.told[parent, name]
        for other in heard:
            before.append(self._scaled(before[-1] * self.told[other, name]))
        after = np.ones(self.width[name])
        for i in reversed(range(len(heard))):
            self._tell(name, heard[i], counts=before[i] * after)
            after = self._scaled(after * self.told[heard[i], name])

    def _tell(self, source: str, target: str, *, counts: Shares | None = None) -> None:
        """Histories on the source's side, per day of the target."""
        if counts is None:
            counts = self._count(source, without=target)
        low, high = self._run_of_days(source, target)
        running = np.concatenate(([0.0], np.cumsum(counts)))
        per_day = np.where(high >= low, running[high + 1] - running[low], 0.0)
        self.told[source, target] = self._scaled(np.maximum(per_day, 0.0))

    def _run_of_days(self, source: str, target: str) -> tuple[NDArray[np.int64], ...]:
        """First and last day of the source, as places in its window, per day of the target."""
        days = self.first[target] + np.arange(self.width[target], dtype=np.int64)
        low = np.zeros(len(days), dtype=np.int64)
        high = np.full(len(days), self.width[source] - 1, dtype=np.int64)
        for link in self.near[target][source]:
            if link.start == target:
                least = link.least.ahead_of(days) if link.least else None
                most = link.most.ahead_of(days) if link.most else None
            else:
                least = link.most.least_reaching_of(days) if link.most else None
                most = link.least.least_reaching_of(days + 1) - 1 if link.least else None
            offset = self.first[source]
            low = low if least is None else np.maximum(low, least - offset)
            high = high if most is None else np.minimum(high, most - offset)
        last = self.width[source] - 1
        return np.clip(low, 0, last + 1), np.clip(high, -1, last)

    @staticmethod
    def _scaled(counts: Shares, *, to_sum: bool = False) -> Shares:
        size = counts.sum() if to_sum else counts.max()
        return counts / size if size > 0 else counts


def days_at(shares: Shares, first: int, *, levels: Sequence[float]) -> tuple[int, ...]:
    """First days by which the running share reaches each level."""
    running = np.cumsum(shares)
    places = np.searchsorted(running, np.asarray(levels) * running[-1] * (1 - 1e-12))
    return tuple(first + int(place) for place in places)
