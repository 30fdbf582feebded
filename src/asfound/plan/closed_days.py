"""Days on which nobody works and a bay is closed: nothing may stand in it from the day before."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from asfound.plan.person import Bay
from asfound.plan.working_time import DAY_BEGINS_MIN, DAY_MIN, Windows

_SPELL_MIN = 60
"""Length of the spell by which such a day is given room on the scale of open time."""


def closed_spells(bays: Iterable[Bay], work: Windows, *, days: int) -> Windows:
    """A spell on each day on which nobody works and more places are closed than around it.

    On the scale of open time a day without work has no room, and a task that holds a bay over it
    would not be seen to. Where as many places are closed on the working day before or after, the
    task is stopped there anyhow.

    Parameters
    ----------
    bays : iterable of Bay
    work : ndarray of int64, shape (n, 2)
        Spells in which anybody works [min].
    days : int
        How many are looked at.
    """
    worked = np.unique(work // DAY_MIN)
    if not len(worked):
        return np.zeros((0, 2), dtype=np.int64)
    idle = np.setdiff1d(np.arange(days), worked)
    after = np.searchsorted(worked, idle)
    idle = idle[(after > 0) & (after < len(worked))]
    after = np.searchsorted(worked, idle)
    several = [_closed(bay, days) for bay in bays if bay.closed]
    alone = np.zeros(len(idle), dtype=bool)
    for places in several:
        around = np.maximum(places[worked[after - 1]], places[worked[after]])
        alone |= places[idle] > around
    begins = idle[alone] * DAY_MIN + DAY_BEGINS_MIN
    return np.column_stack((begins, begins + _SPELL_MIN)).astype(np.int64)


def _closed(bay: Bay, days: int) -> npt.NDArray[np.int64]:
    """How many places are closed on each day."""
    day = np.arange(days)[:, None]
    spans = np.array(bay.closed, dtype=np.int64)
    shut = (spans[:, 0] <= day) & (day <= spans[:, 1])
    return np.asarray(shut.sum(axis=1, dtype=np.int64))
