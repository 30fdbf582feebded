"""The car's own level and unevenness, from all panels at once, however many were touched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
import scipy
from numpy.typing import NDArray

from asfound.measure.film import priors
from asfound.measure.film.car import CarLevel, Habits
from asfound.measure.film.panel_model import (
    Data,
    Products,
    Works,
    log_gain,
    log_sum,
    whiten,
)
from asfound.measure.film.steady import (
    COARSE_DOUBT_STEP,
    COARSE_LEVEL_STEP,
    ENDS_STEP,
    KEPT_N,
    beside,
    steady,
)

Floats = NDArray[np.float64]
LEVELS_N = 44
FINE_N = 400
CURVES_MOST = 4
PEAK_SHARE = 0.25  # one curve reaches this far in proportion to either side of its peak
LEAST_MASS = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Sketch:
    """A panel with few shapes, enough to see the car's level past its local works.

    Sketches are told apart as objects, not by their figures; so what is worked out for one is
    kept for that one.
    """

    data: Data
    heights: Floats
    works: Works


def level_terms(level_um: Floats, u_um: float, between: float) -> tuple[Floats, Floats, Floats]:
    """Mean and variance (l, ways) of a panel's level by every way, and the ways' log weights."""
    ways = priors.LEVEL_WAYS
    share, plus = np.array([w.share for w in ways]), np.array([w.plus_um for w in ways])
    mean = level_um[:, None] * share + plus
    own = np.array([w.sd_um for w in ways]) ** 2
    loose = np.array([w.loose for w in ways])
    works = share * ((loose * between * level_um[:, None]) ** 2 + u_um**2)
    return mean, own + works, np.log([w.weight for w in ways])


@dataclass(frozen=True, slots=True, eq=False)
class PanelLevels:
    """Every way by every curve of the car's level: priors (w,) of one panel's own level.

    ``way`` points into :data:`priors.LEVEL_WAYS`.
    """

    mean_um: Floats
    var: Floats
    log_weight: Floats
    way: NDArray[np.int64]


def panel_levels(level: CarLevel, between: float, times: float = 1.0) -> PanelLevels:
    """The ways of a panel's level where the car's level is known as ``level``.

    The odds of ways that are later work are ``times`` the usual.
    """
    rows, more = [], np.where(priors.plain_ways(), 0.0, np.log(times))
    for mean_um, u_um, weight in zip(level.level_um, level.u_um, level.weight, strict=True):
        mean, var, log_way = level_terms(np.array([mean_um]), float(u_um), between)
        rows.append((mean[0], var[0], log_way + more + np.log(weight)))
    ways_n = len(priors.LEVEL_WAYS)
    return PanelLevels(
        np.concatenate([r[0] for r in rows]),
        np.concatenate([r[1] for r in rows]),
        np.concatenate([r[2] for r in rows]),
        np.tile(np.arange(ways_n), len(rows)),
    )


def log_evidence(
    products: Products, works: Works, level: tuple[Floats, Floats, Floats], gross_n: int
) -> Floats:
    """Log evidence (2, l) of a panel for each of the car's levels: in all, and with no later work.

    No or one local work is summed.
    """
    mean, var, log_weight = level
    a0, b0 = products.gram[0, 0], products.with_y[0]
    plain = products.log_plain + log_gain(a0, b0, mean, var) + log_weight
    # What the level, once integrated out, leaves to each work: left_over for a single term.
    across = products.gram[0].take(works.shape)
    known = var / (1 + a0 * var)
    pull = mean + known * (b0 - a0 * mean)
    a = np.diag(products.gram).take(works.shape) - known[:, :, None] * across**2
    b = products.with_y.take(works.shape) - pull[:, :, None] * across
    gain = log_gain(np.maximum(a, 0.0, out=a), b, works.mean_um, works.var)
    gain += works.log_odds
    one = log_sum(gain, axis=2)
    odds = np.log(priors.patch_odds()[:2])
    none = odds[0] - priors.GROSS_PENALTY * gross_n
    every = log_sum(plain + np.logaddexp(none, odds[1] + one), axis=1)
    return np.array([every, log_sum(plain[:, priors.plain_ways()] + none, axis=1)])


def find_habits(sketches: Sequence[Sketch], level: CarLevel) -> Habits:
    """The habits that make the car's readings most probable, averaged over a small grid."""
    rows = []
    for place, sketch in enumerate(sketches):
        off = beside(place)
        level_um = steady(level.value_um, step=COARSE_LEVEL_STEP, beside=off)
        u_um = steady(level.value_u_um, step=COARSE_DOUBT_STEP, beside=off)
        rows.append(_habits_evidence(sketch, level_um, u_um))
    total = np.sum(rows, axis=0)
    tried = list(product(priors.WITHIN_SHARES, priors.LENGTHS_MM, priors.BETWEEN_SHARES))
    weight = np.exp(total - log_sum(total))
    within, length_mm, between = np.exp(weight @ np.log(np.array(tried))).tolist()
    return Habits(within, length_mm, between)


@lru_cache(maxsize=KEPT_N)
def _habits_evidence(sketch: Sketch, level_um: float, u_um: float) -> Floats:
    """Log evidence of one panel for every set of habits tried, at one level of the car."""
    terms = [level_terms(np.array([level_um]), u_um, between) for between in priors.BETWEEN_SHARES]
    every = tuple(np.vstack([t[i] for t in terms]) for i in (0, 1))
    stacked = (every[0], every[1], terms[0][2])
    gross_n = int(sketch.data.gross.sum())
    rows = [
        log_evidence(
            whiten(sketch.data, sketch.heights, within=within, length_mm=length),
            sketch.works,
            stacked,
            gross_n,
        )[0]
        for within, length in product(priors.WITHIN_SHARES, priors.LENGTHS_MM)
    ]
    return np.concatenate(rows)


@dataclass(frozen=True, slots=True, eq=False)
class LevelCurves:
    """Log evidence of every panel (p, l) on a fine grid of the car's levels [µm].

    ``panels`` is that in all, ``plain`` that with no later work.
    """

    grid_um: Floats
    panels: Floats
    plain: Floats


def level_curves(sketches: Sequence[Sketch], habits: Habits) -> LevelCurves:
    """How well each panel agrees with each level that the car may have.

    Notes
    -----
    A panel's evidence is no sharper than the works' habit between panels, so that a coarse
    grid even in the logarithm, joined by a cubic spline, gives the fine one.
    """
    y = np.concatenate([s.data.y_um[~s.data.gross] for s in sketches])
    low, high = np.quantile(y, [0.02, 0.98])
    ends = [max(0.4 * low, 4.0), max(1.8 * high, 12.0)]
    low, high = (steady(float(end), step=ENDS_STEP) for end in ends)
    fine = np.geomspace(low, high, FINE_N)
    coarse = np.geomspace(low, high, LEVELS_N)
    rows = [
        _levels_evidence(sketch, habits.steady(place), low, high)
        for place, sketch in enumerate(sketches)
    ]
    panels, plain = scipy.interpolate.CubicSpline(np.log(coarse), np.array(rows), axis=2)(
        np.log(fine)
    ).swapaxes(0, 1)
    return LevelCurves(fine, panels, plain)


@lru_cache(maxsize=2 * KEPT_N)
def _levels_evidence(sketch: Sketch, habits: Habits, low_um: float, high_um: float) -> Floats:
    """Log evidence (2, l) of one panel at levels between two ends, as :func:`log_evidence`."""
    terms = level_terms(np.geomspace(low_um, high_um, LEVELS_N), 0.0, habits.between)
    products = whiten(sketch.data, sketch.heights, within=habits.within, length_mm=habits.length_mm)
    return log_evidence(products, sketch.works, terms, int(sketch.data.gross.sum()))


def car_level(
    curves: LevelCurves, *, alike: NDArray[np.bool_], others: NDArray[np.bool_] | None = None
) -> CarLevel:
    """The level on which the panels marked ``alike`` agree, ``others`` speaking from aside.

    Parameters
    ----------
    curves : LevelCurves
    alike : array of bool, shape (p,)
        Panels of the same substrate. The panel to be judged is left out by the caller: readings
        may not be held against a level that they made themselves.
    others : array of bool, shape (p,), optional
        Panels of other substrates, whose level may differ by a few per cent.

    Notes
    -----
    Flat prior in the logarithm; Σ log evidence; the posterior is cut into at most four bell
    curves about its peaks.
    """
    total = curves.panels[alike].sum(axis=0)
    if others is not None and others.any():
        aside = curves.panels[others].sum(axis=0)
        step = np.log(curves.grid_um)
        blur = np.exp(-0.5 * ((step[:, None] - step[None]) / priors.SUBSTRATE_SHARE) ** 2)
        total = total + np.log(blur @ np.exp(aside - aside.max()) + 1e-12)
    p = np.exp(total - total.max())
    return _curves(curves.grid_um, p / p.sum())


def _curves(grid: Floats, p: Floats) -> CarLevel:
    left = p.copy()
    rows: list[tuple[float, float, float]] = []
    step = float(np.log(grid[1] / grid[0]))
    for _ in range(CURVES_MOST):
        near = np.abs(np.log(grid / grid[int(np.argmax(left))])) < PEAK_SHARE
        mass = float(left[near].sum())
        if rows and mass < LEAST_MASS:
            break
        mean = float(left[near] @ grid[near]) / mass
        spread = float(np.sqrt(left[near] @ (grid[near] - mean) ** 2 / mass))
        rows.append((mean, max(spread, step * mean / 2), mass))
        left[near] = 0.0
    level, u, weight = zip(*rows, strict=True)
    return CarLevel(level, u, tuple(w / sum(weight) for w in weight))
