"""Open time looked up on a grid: for many times at once, each in the same few steps."""

from __future__ import annotations

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
        self._cell_min = int(np.gcd.reduce(np.concatenate((time.begins, time.ends))))
        first = self._cell_min * np.arange(time.ends[-1] // self._cell_min + 1)
        spell = np.searchsorted(time.begins, first, side="right") - 1
        is_open = (spell >= 0) & (first < time.ends[spell])
        self._ahead = np.where(is_open, (time.passed - time.begins)[spell], np.inf)
        self._most = np.where(is_open, np.inf, time.before(first))
        self._sum_min = int(np.gcd.reduce(time.lengths))
        sums = self._sum_min * np.arange(time.total // self._sum_min)
        behind = np.searchsorted(time.passed, sums, side="right") - 1
        self._behind = (time.begins - time.passed)[behind].astype(np.float64)

    def before(self, time: Minutes) -> Minutes:
        """Open minutes before each time, zero or more."""
        cell = (time / self._cell_min).astype(np.intp)
        passed = self._ahead.take(cell, mode="clip")
        passed += time
        return np.minimum(passed, self._most.take(cell, mode="clip"), out=passed)

    def ends_at(self, passed: Minutes) -> Minutes:
        """The time at which work ends that ends after so many open minutes."""
        cell = np.ceil(passed / self._sum_min).astype(np.intp)
        cell -= 1
        return np.asarray(self._behind.take(cell, mode="clip") + passed)

    def starts_at(self, passed: Minutes) -> Minutes:
        """The time at which work begins that begins after so many open minutes."""
        cell = (passed / self._sum_min).astype(np.intp)
        return np.asarray(self._behind.take(cell, mode="clip") + passed)
