"""Open time: spells of work laid end to end, so that nights and holidays take no room."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

import numpy as np
import numpy.typing as npt

from asfound.plan.working_time import Windows

Minutes = npt.NDArray[np.float64]


class OpenTime:
    """Spells of work with what passed before each.

    Parameters
    ----------
    windows : ndarray of int64, shape (n, 2)
        Begin and end of each spell [min], in order; spells that touch are joined.
    """

    def __init__(self, windows: Windows) -> None:
        joined = _joined(windows)
        self.begins, self.ends = joined[:, 0], joined[:, 1]
        self.lengths = self.ends - self.begins
        self.passed = np.concatenate(([0], np.cumsum(self.lengths)))[:-1]
        self.total = int(self.lengths.sum())

    def before(self, time: npt.ArrayLike) -> Minutes:
        """Open minutes before a time."""
        at = np.asarray(time, dtype=np.float64)
        if not len(self.begins):
            return np.zeros_like(at)
        spell = np.maximum(np.searchsorted(self.begins, at, side="right") - 1, 0)
        inside = np.clip(at - self.begins[spell], 0, self.lengths[spell])
        return np.asarray(self.passed[spell] + inside)

    def starts_at(self, passed: npt.ArrayLike) -> Minutes:
        """The time at which work begins that begins after so many open minutes."""
        return self._at(passed, side="right")

    def ends_at(self, passed: npt.ArrayLike) -> Minutes:
        """The time at which work ends that ends after so many open minutes."""
        return self._at(passed, side="left")

    def _at(self, passed: npt.ArrayLike, *, side: str) -> Minutes:
        """At the joint of two spells both times are right; the side says which is meant."""
        at = np.asarray(passed, dtype=np.float64)
        spell = np.searchsorted(self.passed, at, side=side) - 1  # type: ignore[call-overload]
        spell = np.maximum(spell, 0)
        return np.asarray(self.begins[spell] + at - self.passed[spell])


def _joined(windows: Windows) -> Windows:
    if not len(windows):
        return np.zeros((0, 2), dtype=np.int64)
    apart = np.flatnonzero(windows[1:, 0] > windows[:-1, 1])
    begins = windows[np.concatenate(([0], apart + 1)), 0]
    ends = windows[np.concatenate((apart, [len(windows) - 1])), 1]
    return np.column_stack((begins, ends))


def any_of(several: Sequence[Windows]) -> Windows:
    """Spells in which at least one of several is at work."""
    return at_least(several, 1)


def all_of(several: Sequence[Windows]) -> Windows:
    """Spells in which all of several are at work."""
    return reduce(lambda one, two: at_least((one, two), 2), several)


def at_least(several: Sequence[Windows], count: int) -> Windows:
    """Spells in which at least ``count`` of several are at work."""
    edges = np.concatenate([w.ravel() for w in several])
    steps = np.concatenate([np.tile([1, -1], len(w)) for w in several])
    if not len(edges):
        return np.zeros((0, 2), dtype=np.int64)
    times, place = np.unique(edges, return_inverse=True)
    level = np.cumsum(np.bincount(place, weights=steps, minlength=len(times)))
    enough = level[:-1] >= count
    spells = np.column_stack((times[:-1], times[1:]))[enough]
    return _joined(spells)
