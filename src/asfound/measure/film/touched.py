"""How much of a car has been worked on, and what that says before a panel is read."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from asfound.measure.film import priors
from asfound.measure.film.car import CarLevel
from asfound.measure.film.car_level import LevelCurves
from asfound.measure.film.panel_model import log_sum

Floats = NDArray[np.float64]
MOST_LOG_ODDS = 30.0


def later_shares(curves: LevelCurves, levels: Sequence[CarLevel]) -> list[float]:
    """Prior probability of later work on each panel, from what the other panels say.

    Parameters
    ----------
    curves : LevelCurves
    levels : sequence of CarLevel
        What each panel is held against.

    Notes
    -----
    A car worked on in one place is likelier to have been worked on in another. Every share θ of
    touched panels in :data:`priors.LATER_SHARES` is weighed by Π (1 − θ + θ r) over the other
    panels, r being a panel's likelihood ratio for later work; the answer is the mean of θ.
    """
    prior = priors.later_odds()
    at = np.array([_density(level, curves.grid_um) for level in levels])
    log_at = np.log(at + 1e-300)
    excess = log_sum(curves.panels + log_at, axis=1) - log_sum(curves.plain + log_at, axis=1)
    ratio = np.expm1(np.clip(excess, 0.0, MOST_LOG_ODDS)) * (1 - prior) / prior
    share = np.array(priors.LATER_SHARES)[:, None]
    each = np.log(1 - share + share * ratio)
    others = each.sum(axis=1, keepdims=True) - each
    weight = np.exp(others - others.max(axis=0))
    return list((weight * share).sum(axis=0) / weight.sum(axis=0))


def _density(level: CarLevel, grid_um: Floats) -> Floats:
    """Share of the car's level that lies at each point of a grid."""
    mean, u, weight = (np.array(x)[:, None] for x in (level.level_um, level.u_um, level.weight))
    density = (weight / u * np.exp(-0.5 * ((grid_um - mean) / u) ** 2)).sum(axis=0)
    return np.asarray(density / density.sum())
