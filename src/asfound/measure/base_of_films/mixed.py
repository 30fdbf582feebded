"""The normal mixed model beneath the base: kinds, cars within kinds, known measurement error."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import erfinv

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Observations y with known u, their group numbers, and the fixed effects' design and prior.

    Parameters
    ----------
    y, u : ndarray, shape (n,)
        Observation and its known standard uncertainty.
    group : ndarray of int, shape (n,)
        0 to ``groups_n`` − 1.
    design : ndarray, shape (n, p)
        Fixed effects.
    precision : ndarray, shape (p, p)
        Prior precision of the effects about ``start``; zeros make the likelihood restricted.
    start : ndarray, shape (p,)
        Prior mean of the effects.
    """

    y: Floats
    u: Floats
    group: NDArray[np.intp]
    groups_n: int
    design: Floats
    precision: Floats
    start: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """The effects given the two spreads, with the group sums that a prediction needs."""

    log_likelihood: float
    effects: Floats
    covariance: Floats
    group_weight: Floats  # (K,) Σ 1/d in the group
    group_sums: Floats  # (K, p + 1) Σ (design, residual-ready y)/d
    group_var: float
    car_var: float


def solve(rows: Rows, *, group_var: float, car_var: float) -> Solved:
    """Effects and marginal log-likelihood for given variances between groups and cars.

    Notes
    -----
    V is diagonal plus a constant a group, so V⁻¹ = D⁻¹ − D⁻¹1 f 1'D⁻¹ in each group with
    f = τ²/(1 + τ²Σ1/d) (Sherman-Morrison); nothing larger than p × p is ever inverted. With zero
    prior precision the result is the restricted likelihood (REML) up to a constant.
    """
    around = rows.y - rows.design @ rows.start
    columns = np.column_stack([rows.design, around])
    d = rows.u**2 + car_var
    weighted = columns / d[:, None]
    sums = np.zeros((rows.groups_n, columns.shape[1]))
    np.add.at(sums, rows.group, weighted)
    weight = np.zeros(rows.groups_n)
    np.add.at(weight, rows.group, 1 / d)
    share = group_var / (1 + group_var * weight)
    cross = columns.T @ weighted - sums.T @ (share[:, None] * sums)
    inner = cross[:-1, :-1] + rows.precision
    covariance = np.asarray(np.linalg.inv(inner), dtype=np.float64)
    shift = covariance @ cross[:-1, -1]
    quadratic = cross[-1, -1] - cross[:-1, -1] @ shift
    log_det = np.log(d).sum() + np.log1p(group_var * weight).sum()
    return Solved(
        log_likelihood=float(-0.5 * (log_det + np.linalg.slogdet(inner)[1] + quadratic)),
        effects=rows.start + shift,
        covariance=covariance,
        group_weight=weight,
        group_sums=np.column_stack([sums[:, :-1], sums[:, -1] - sums[:, :-1] @ shift]),
        group_var=group_var,
        car_var=car_var,
    )


def predict(solved: Solved, *, group: int | None, place: Floats) -> tuple[float, float]:
    """Mean and variance of a new car's y in a group of the rows (None: a new group).

    Notes
    -----
    Best linear unbiased prediction: the group's own mean is drawn towards the trend by
    1/(1 + τ²Σ1/d), and the doubt of the effects is carried along.
    """
    mean, variance, lever = float(place @ solved.effects), solved.group_var, place
    if group is not None:
        keep = solved.group_var / (1 + solved.group_var * float(solved.group_weight[group]))
        mean += keep * float(solved.group_sums[group, -1])
        lever = place - keep * solved.group_sums[group, :-1]
        variance = keep
    return mean, variance + solved.car_var + float(lever @ solved.covariance @ lever)


def half_normal_grid(*, scale: float, points_n: int) -> Floats:
    """Equally likely values of a half-normal quantity: the middles of ``points_n`` equal shares."""
    share = (np.arange(points_n) + 0.5) / points_n
    return np.asarray(scale * math.sqrt(2) * erfinv(share), dtype=np.float64)
