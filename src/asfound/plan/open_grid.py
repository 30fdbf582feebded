"""Open time looked up on a grid: for many times at once, each in the same few steps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from asfound.plan.open_time import OpenTime
from asfound.plan.working_time import Windows

Minutes = npt.NDArray[np.float64]


class OpenGrid:
    """The same as :class:`OpenTime`, made for asking thousands of times.

    Parameters
    ----------
    windows : ndarray of int64, shape (n, 2)
        Begin and end of each spell [min], one at least, in order.

    Notes
    -----
    The clock is cut into cells so long as the greatest common divisor of all begins and ends, so
    that a cell is open from end to end or not at all; likewise the open minutes by the sums of the
    spells. A time is then found by a division instead of a search.
    """

    def __init__(self, windows: Windows) -> None:
        time = OpenTime(windows)
        self.total_min = time.total
        self.cell_min = int(np.gcd.reduce(np.concatenate((time.begins, time.ends))))
        first = self.cell_min * np.arange(time.ends[-1] // self.cell_min + 1)
        spell = np.searchsorted(time.begins, first, side="right") - 1
        is_open = (spell >= 0) & (first < time.ends[spell])
        self.ahead = np.where(is_open, (time.passed - time.begins)[spell], np.inf)
        self.most = np.where(is_open, np.inf, time.before(first))
        self.sum_min = int(np.gcd.reduce(time.lengths))
        sums = self.sum_min * np.arange(time.total // self.sum_min)
        behind = np.searchsorted(time.passed, sums, side="right") - 1
        self.behind = (time.begins - time.passed)[behind].astype(np.float64)

    def before(self, time: Minutes) -> Minutes:
        """Open minutes before each time, zero or more."""
        cell = (time / self.cell_min).astype(np.intp)
        passed = self.ahead.take(cell, mode="clip")
        passed += time
        return np.minimum(passed, self.most.take(cell, mode="clip"), out=passed)

    def ends_at(self, passed: Minutes) -> Minutes:
        """The time at which work ends that ends after so many open minutes."""
        cell = np.ceil(passed / self.sum_min).astype(np.intp)
        cell -= 1
        return np.asarray(self.behind.take(cell, mode="clip") + passed)

    def starts_at(self, passed: Minutes) -> Minutes:
        """The time at which work begins that begins after so many open minutes."""
        cell = (passed / self.sum_min).astype(np.intp)
        return np.asarray(self.behind.take(cell, mode="clip") + passed)


Numbers = npt.NDArray[np.intp]


class OpenGrids:
    """Several grids in one, each time looked up in that of its number.

    Parameters
    ----------
    grids : sequence of OpenGrid
        One at least.
    """

    def __init__(self, grids: Sequence[OpenGrid]) -> None:
        self.total_min = np.array([grid.total_min for grid in grids], dtype=np.float64)
        self._cell_min = np.array([grid.cell_min for grid in grids], dtype=np.float64)
        self._sum_min = np.array([grid.sum_min for grid in grids], dtype=np.float64)
        self._first, self._last = _ends_of([grid.ahead for grid in grids])
        self._ahead = np.concatenate([grid.ahead for grid in grids])
        self._most = np.concatenate([grid.most for grid in grids])
        self._first_sum, self._last_sum = _ends_of([grid.behind for grid in grids])
        self._behind = np.concatenate([grid.behind for grid in grids])

    def before(self, grid: Numbers, time: Minutes) -> Minutes:
        """Open minutes of each grid before each time, zero or more."""
        cell = (time / self._cell_min[grid]).astype(np.intp)
        cell += self._first[grid]
        np.minimum(cell, self._last[grid], out=cell)
        passed = self._ahead[cell]
        passed += time
        return np.asarray(np.minimum(passed, self._most[cell], out=passed))

    def ends_at(self, grid: Numbers, passed: Minutes) -> Minutes:
        """The time at which work ends that ends after so many open minutes."""
        cell = np.ceil(passed / self._sum_min[grid]).astype(np.intp)
        cell -= 1
        np.maximum(cell, 0, out=cell)
        cell += self._first_sum[grid]
        np.minimum(cell, self._last_sum[grid], out=cell)
        return np.asarray(self._behind[cell] + passed)

    def starts_at(self, grid: Numbers, passed: Minutes) -> Minutes:
        """The time at which work begins that begins after so many open minutes."""
        cell = (passed / self._sum_min[grid]).astype(np.intp)
        cell += self._first_sum[grid]
        np.minimum(cell, self._last_sum[grid], out=cell)
        return np.asarray(self._behind[cell] + passed)


def _ends_of(tables: Sequence[Minutes]) -> tuple[Numbers, Numbers]:
    """First and last place of each of several tables laid end to end."""
    behind = np.cumsum([len(table) for table in tables])
    return behind - [len(table) for table in tables], behind - 1
