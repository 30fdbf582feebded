"""The car's own level and unevenness, from all panels at once, however many were touched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp

from asfound.measure.film import priors
from asfound.measure.film.panel_model import (
    Data,
    Given,
    Products,
    Works,
    left_over,
    log_gain,
    whiten,
)

Floats = NDArray[np.float64]
LEVELS_N = 36


@dataclass(frozen=True, slots=True)
class Habits:
    """How the works painted: unevenness within (share), its length, level between (share)."""

    within: float
    length_mm: float
    between: float


@dataclass(frozen=True, slots=True)
class CarLevel:
    """The level [µm] of a group of panels with its doubt."""

    level_um: float
    u_um: float


@dataclass(frozen=True, slots=True, eq=False)
class Sketch:
    """A panel with few shapes, enough to see the car's level past its local works."""

    data: Data
    heights: Floats
    works: Works


def level_terms(level_um: Floats, u_um: float, between: float) -> tuple[Floats, Floats, Floats]:
    """Mean and variance (l, ways) of a panel's level by every way, and the ways' log weights."""
    ways = priors.LEVEL_WAYS
    share, plus = np.array([w.share for w in ways]), np.array([w.plus_um for w in ways])
    mean = level_um[:, None] * share + plus
    own = np.array([w.sd_um for w in ways]) ** 2
    works = share * ((between * level_um[:, None]) ** 2 + u_um**2)
    return mean, own + works, np.log([w.weight for w in ways])


def log_evidence(
    products: Products, works: Works, level: tuple[Floats, Floats, Floats], gross_n: int
) -> Floats:
    """Log evidence (l,) of a panel with no or one local work, for each of the car's levels."""
    mean, var, log_weight = level
    shape = mean.shape
    a0, b0 = products.gram[0, 0], products.with_y[0]
    plain = products.log_plain + log_gain(a0, b0, mean, var) + log_weight
    flat = Given(np.zeros((mean.size, 1), dtype=np.int64), mean.reshape(-1, 1), var.reshape(-1, 1))
    a, b = left_over(products, flat)
    gain = log_gain(a[:, works.shape], b[:, works.shape], works.mean_um, works.var)
    one = logsumexp(gain + works.log_odds, axis=1).reshape(shape)
    odds = np.log(priors.patch_odds()[:2])
    none = odds[0] - priors.GROSS_PENALTY * gross_n
    return np.asarray(logsumexp(plain + np.logaddexp(none, odds[1] + one), axis=1))


def find_habits(sketches: Sequence[Sketch], level: CarLevel) -> Habits:
    """The habits that make the car's readings most probable, averaged over a small grid."""
    tried = list(product(priors.WITHIN_SHARES, priors.LENGTHS_MM, priors.BETWEEN_SHARES))
    total = np.zeros(len(tried))
    terms = [
        level_terms(np.array([level.level_um]), level.u_um, between)
        for between in priors.BETWEEN_SHARES
    ]
    every = tuple(np.vstack([t[i] for t in terms]) for i in (0, 1))
    stacked = (every[0], every[1], terms[0][2])
    for sketch in sketches:
        row = [
            log_evidence(
                whiten(sketch.data, sketch.heights, within=within, length_mm=length),
                sketch.works,
                stacked,
                int(sketch.data.gross.sum()),
            )
            for within, length in product(priors.WITHIN_SHARES, priors.LENGTHS_MM)
        ]
        total += np.concatenate(row)
    weight = np.exp(total - logsumexp(total))
    mean = np.exp(weight @ np.log(np.array(tried)))
    return Habits(float(mean[0]), float(mean[1]), float(mean[2]))


def level_grid(sketches: Sequence[Sketch]) -> Floats:
    """Levels [µm] that the car may have, evenly spread in proportion over what was read."""
    y = np.concatenate([s.data.y_um for s in sketches])
    low, high = np.quantile(y, [0.02, 0.98])
    return np.geomspace(max(0.75 * low, 5.0), max(1.15 * high, 8.0), LEVELS_N)


def find_level(
    sketches: Sequence[Sketch], habits: Habits, *, before: CarLevel | None = None
) -> CarLevel:
    """The level that most of the panels share.

    Notes
    -----
    p(level | readings) on a grid even in its logarithm, where each panel is undisturbed,
    refinished over or stripped by its prior weights; moments are taken about the highest peak.
    ``before`` is a bell-shaped prior, for a substrate beside another.
    """
    grid = level_grid(sketches)
    for _ in range(2):
        total = np.zeros(len(grid))
        terms = level_terms(grid, 0.0, habits.between)
        for sketch in sketches:
            products = whiten(
                sketch.data, sketch.heights, within=habits.within, length_mm=habits.length_mm
            )
            total += log_evidence(products, sketch.works, terms, int(sketch.data.gross.sum()))
        if before is not None:
            total -= 0.5 * ((grid - before.level_um) / before.u_um) ** 2
        level = _peak(grid, total)
        grid = np.linspace(
            max(level.level_um - 4 * level.u_um, 2.0),
            level.level_um + 4 * level.u_um,
            LEVELS_N // 2,
        )
    return level


def _peak(grid: Floats, log_p: Floats) -> CarLevel:
    top = int(np.argmax(log_p))
    near = np.abs(np.log(grid / grid[top])) < 0.25
    weight = np.where(near, np.exp(log_p - log_p[top]), 0.0) * np.gradient(grid)
    weight /= weight.sum()
    mean = float(weight @ grid)
    spread = float(np.sqrt(weight @ (grid - mean) ** 2))
    step = float(np.gradient(grid)[top])
    return CarLevel(mean, max(spread, step / np.sqrt(12.0)))
