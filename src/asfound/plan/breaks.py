"""Breaks of a team within the shop's open time, and where work lands that runs across them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import accumulate

from asfound.plan.open_time import OpenTime
from asfound.plan.working_time import Windows


class Breaks:
    """Spells of the shop's open time in which a team is not at work.

    Parameters
    ----------
    windows : ndarray of int64, shape (n, 2)
        When the team works [min].
    shop : OpenTime
        When the shop is open: always, where the team works.
    tick_min : int
        Length of a tick [min]; every spell is whole ticks.
    """

    def __init__(self, windows: Windows, *, shop: OpenTime, tick_min: int) -> None:
        at_work = (shop.before(windows.ravel()) // tick_min).astype(int).reshape(-1, 2).tolist()
        self.spells = _gaps(at_work, shop.total // tick_min)
        self._begins = [begin for begin, _ in self.spells]
        lengths = [end - begin for begin, end in self.spells]
        self._lost = [0, *accumulate(lengths)]
        self._worked = [
            begin - lost for (begin, _), lost in zip(self.spells, self._lost, strict=False)
        ]
        self.work = shop.total // tick_min - self._lost[-1]

    def worked(self, tick: int) -> int:
        """Ticks of work before a tick."""
        passed = bisect_left(self._begins, tick)
        inside = max(0, self.spells[passed - 1][1] - tick) if passed else 0
        return tick - self._lost[passed] + inside

    def begin(self, tick: int) -> int:
        """First tick of work at or after a tick."""
        done = self.worked(tick)
        return done + self._lost[bisect_right(self._worked, done)]

    def end(self, begin: int, ticks: int) -> int | None:
        """Where so many ticks of work end that begin at ``begin``; None beyond what is known."""
        done = self.worked(begin) + ticks
        if done > self.work:
            return None
        return done + self._lost[bisect_left(self._worked, done)] if ticks else begin

    def span_from(self, tick: int, ticks: int) -> tuple[int, int] | None:
        """Begin and end of so many ticks of work that begin at ``tick`` or as soon as they can."""
        if not ticks:
            return tick, tick
        begin = self.begin(tick)
        end = self.end(begin, ticks)
        return None if end is None else (begin, end)

    def span_until(self, tick: int, ticks: int) -> tuple[int, int] | None:
        """Begin and end of so many ticks of work that end at ``tick`` or as shortly before."""
        begin = self.latest_begin(tick, ticks)
        end = None if begin is None else self.end(begin, ticks)
        return None if begin is None or end is None else (begin, end)

    def latest_begin(self, end: int, ticks: int) -> int | None:
        """Last tick at which so many ticks of work can begin to end by ``end``; None if never."""
        if not ticks:
            return end
        done = self.worked(end) - ticks
        return None if done < 0 else done + self._lost[bisect_right(self._worked, done)]


def _gaps(at_work: list[list[int]], total: int) -> list[tuple[int, int]]:
    edges = [0, *(edge for spell in at_work for edge in spell), total]
    pairs = zip(edges[::2], edges[1::2], strict=True)
    return [(begin, end) for begin, end in pairs if begin < end]
