"""How long a late task keeps its turn: as long as suits the shop best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from asfound.plan.open_grid import Minutes
from asfound.plan.policy import Policy
from asfound.plan.working_time import DAY_MIN

PATIENCES_MIN = (0, DAY_MIN, 30 * DAY_MIN)
_TRIED, _LEAST_TRIED = 90_000, 100
"""Tasks times draws in which each is tried, and the least of these draws."""


def best_patience(
    policy: Policy,
    work_min: Minutes,
    groups: Mapping[str | None, Sequence[int]],
    priority: Mapping[str, float],
) -> float:
    """The patience [min] with which the rule ends earliest on average.

    Parameters
    ----------
    policy : Policy
    work_min : ndarray, shape (tasks, draws)
    groups : mapping of str or None to sequence of int
        Rows of each car's tasks, and under None all, which alone count where there is no car.
    priority : mapping of str to float
        Weight of each car's finish, 1 where it is absent.

    Notes
    -----
    A shop with much to do for everybody does best when nobody waits; one in which a single chain
    sets the finish does better when that chain finds its people free. Of several policies the one
    is taken that does best in simulation, all with the same luck (Stork 2001, from memory).
    """
    tried = work_min[:, : max(_LEAST_TRIED, _TRIED // max(1, len(work_min)))]
    cars = {car: rows for car, rows in groups.items() if car is not None} or groups
    patiences = np.repeat(np.array(PATIENCES_MIN, dtype=np.float64), tried.shape[1])
    ends = policy.with_patience(patiences).course(np.tile(tried, len(PATIENCES_MIN))).end_min
    late = np.zeros(len(PATIENCES_MIN))
    for car, rows in cars.items():
        finishes = ends[rows].max(axis=0, initial=0.0).reshape(len(PATIENCES_MIN), -1)
        late += priority.get(car or "", 1.0) * finishes.mean(axis=1)
    return float(PATIENCES_MIN[int(late.argmin())])
