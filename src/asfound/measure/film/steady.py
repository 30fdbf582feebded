"""Figures held to a grid finer than their doubt, so that what rests on them can be kept.

One more reading on a panel moves the car's level, its habits and the usual scatter by far less
than they are known. Held to a grid they mostly stay the same numbers, and the other panels, which
depend on nothing else, need not be read again. The answer is that of a fresh reading, since a
fresh reading holds them to the same grid.
"""

from __future__ import annotations

import math

KEPT_N = 128  # panels whose work is kept: some ten cars
LEVEL_STEP = 0.005  # shares; each a small part of the figure's own standard uncertainty
DOUBT_STEP = 0.05
HABIT_STEP = 0.04
WEIGHT_STEP = 0.02


def steady(value: float, *, step: float) -> float:
    """The figure nearest to ``value`` (> 0) on a grid of even ratio ``step``.

    Examples
    --------
    >>> steady(100.1, step=0.05) == steady(100.9, step=0.05)
    True
    """
    return math.exp(round(math.log(value) / step) * step)
