"""Hours told by three points as a distribution, drawn with what a trade has in common."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from scipy import special

from asfound.plan.task import Hours, Task

SHARED_WITHIN_TRADE = 0.3
"""Correlation of the doubt of two tasks of one trade: a guess, no source. Whoever misjudges one
task of a trade tends to misjudge the others the same way; independent draws would promise too
narrow a finish."""
_POINTS = 257
"""Of the inverse, between which it is a straight line: less than a thousandth of the span off."""

Draws = npt.NDArray[np.float64]


def pert_shape(hours: Hours) -> tuple[float, float]:
    """Shape parameters of the beta distribution with the mean of the three-point rule.

    Notes
    -----
    α = 1 + 4 (likely − low)/(high − low), β = 1 + 4 (high − likely)/(high − low): the mode is the
    likely value and the mean is (low + 4 likely + high)/6.

    References
    ----------
    Malcolm, D. G., Roseboom, J. H., Clark, C. E. and Fazar, W. (1959), Application of a technique
    for research and development program evaluation, Operations Research 7(5), 646–669, for the
    mean. The shapes are the customary ones that have it; the variance is then
    (mean − low)(high − mean)/7, near but not equal to ((high − low)/6)².
    """
    share = (hours.likely - hours.low) / (hours.high - hours.low)
    return 1 + 4 * share, 1 + 4 * (1 - share)


def log_variance_of(hours: Hours) -> float:
    """Variance of the logarithm of such hours, as that of a log-normal with their mean and spread.

    Notes
    -----
    ln(1 + variance/mean²), with the mean and variance of ``pert_shape``.

    Examples
    --------
    >>> round(log_variance_of(Hours(low=8, likely=12, high=16)), 4), log_variance_of(Hours.sure(3))
    (0.0157, 0.0)
    """
    mean = (hours.low + 4 * hours.likely + hours.high) / 6
    variance = (mean - hours.low) * (hours.high - mean) / 7
    return math.log1p(variance / mean**2) if mean else 0.0


def hours_at(hours: Hours, chance: Draws) -> Draws:
    """Hours that are not exceeded with each chance, 0–1."""
    if hours.high <= hours.low:
        return np.full_like(chance, hours.likely)
    alpha, beta = pert_shape(hours)
    share = (1 - np.cos(np.linspace(0, np.pi, _POINTS))) / 2  # closer at both ends
    found = np.interp(chance, special.betainc(alpha, beta, share), share)
    return np.asarray(hours.low + (hours.high - hours.low) * found)


def draw_hours(
    tasks: Sequence[Task],
    *,
    draws: int,
    rng: np.random.Generator,
    shared: float = SHARED_WITHIN_TRADE,
) -> Draws:
    """Hours of each task in each draw, shape (tasks, draws).

    Parameters
    ----------
    tasks : sequence of Task
    draws : int
    rng : Generator
    shared : float
        Correlation of the normal scores of two tasks of one trade, 0–1.

    Notes
    -----
    A normal copula: z = √ρ · z of the trade + √(1 − ρ) · z of the task, and the hours are those
    with the chance Φ(z). Where tasks bear the doubt of a factor learned from the past
    (``doubt_log``), each draw multiplies them by exp(doubt · z), with one z for each trade: the
    factors of two kinds of one trade are taken as wrong together, which is on the safe side.
    Where jobs of the past spread wider than a task's three points (``own_log``), the task's hours
    are multiplied once more, by exp(own · z) with a z of its own.
    """
    trades = {trade: i for i, trade in enumerate(sorted({task.trade for task in tasks}))}
    of_trade = rng.standard_normal((len(trades), draws))
    found = np.empty((len(tasks), draws))
    for row, task in enumerate(tasks):
        own = rng.standard_normal(draws)
        score = np.sqrt(shared) * of_trade[trades[task.trade]] + np.sqrt(1 - shared) * own
        found[row] = hours_at(task.hours, special.ndtr(score))
    if any(task.doubt_log for task in tasks):
        of_factor = rng.standard_normal((len(trades), draws))
        for row, task in enumerate(tasks):
            found[row] *= np.exp(task.doubt_log * of_factor[trades[task.trade]])
    for row, task in enumerate(tasks):
        if task.own_log:
            found[row] *= np.exp(task.own_log * rng.standard_normal(draws))
    return found
