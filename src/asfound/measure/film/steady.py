"""Figures held to a grid finer than their doubt, so that what rests on them can be kept.

One more reading on a panel moves the car's level, its habits and the usual scatter by far less
than they are known. Held to a grid they mostly stay the same numbers, and the other panels, which
depend on nothing else, need not be read again. Each panel's grid lies a little beside the others',
so that a figure on the move passes the panels' marks one after another and not all at once. The
answer is that of a fresh reading, since a fresh reading holds them to the same grids.
"""

from __future__ import annotations

import math

KEPT_N = 128  # panels whose work is kept: some ten cars
LEVEL_STEP = 0.0125  # shares; a panel's own level strays from the car's by 3 to 8 %
LEVEL_DOUBT_STEP = 0.3
COARSE_LEVEL_STEP, COARSE_DOUBT_STEP = 0.03, 0.5  # will do to learn the habits by
SCATTER_STEP = 0.1
HABIT_STEP = 0.05
BETWEEN_STEP = 0.12  # from a dozen panels the habit between panels is known to a fifth at best
ENDS_STEP = 0.2
WEIGHT_STEP = 0.05
ODDS_STEP = 0.12
GOLDEN = 0.6180339887498949  # its multiples, modulo one, are spread evenly


def steady(value: float, *, step: float, beside: float = 0.0) -> float:
    """The figure nearest to ``value`` (> 0) on a grid of even ratio ``step``.

    Parameters
    ----------
    value : float
    step : float
        Of the logarithm.
    beside : float
        How far the grid lies beside the plain one, in steps, 0 to 1.

    Examples
    --------
    >>> steady(100.1, step=0.05) == steady(100.9, step=0.05)
    True
    """
    return math.exp((round(math.log(value) / step - beside) + beside) * step)


def beside(place: int) -> float:
    """How far, in steps, the grid of the panel at ``place`` lies beside the plain one."""
    return place * GOLDEN % 1.0


def steady_share(share: float, place: int) -> float:
    """A probability whose odds are held to the grid of the panel at ``place``."""
    odds = steady(share / (1 - share), step=ODDS_STEP, beside=beside(place))
    return odds / (1 + odds)
