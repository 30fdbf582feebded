"""What histories foretell of places on a panel: the film there, and whether it is later work."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from asfound.measure.field import distances_mm, matern52
from asfound.measure.film import priors
from asfound.measure.film.car import Habits
from asfound.measure.film.panel_model import Data, base_covariance
from asfound.measure.film.search import NONE, Search
from asfound.measure.film.shapes import Shapes

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Setting:
    """What histories of a panel rest on; ``heights`` (d, n) are the shapes' at the spots."""

    search: Search
    data: Data
    shapes: Shapes
    heights: Floats
    habits: Habits


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """Distinct histories: way (s,), works (s, k) and weight (s,), which sums to one."""

    way: Ints
    works: Ints
    weight: Floats


def filled(works: Ints) -> Ints:
    """The slots of ``works`` (s, k) that some history fills, at least one."""
    some = (works != NONE).any(axis=0)
    some[0] |= not some.any()
    return np.asarray(works[:, some])


def distinct(way: Ints, works: Ints, weight: Floats) -> States:
    """The histories with those that occur twice put together and empty slots left out."""
    works = filled(works)
    both, twin = np.unique(np.column_stack([way, works]), axis=0, return_inverse=True)
    together = np.bincount(twin.ravel(), weights=weight).astype(np.float64)
    return States(both[:, 0], both[:, 1:], together)


@dataclass(frozen=True, slots=True, eq=False)
class Foretold:
    """Each state's prediction (s, m) of a new spot's film, and how far it holds later work.

    ``amounts`` (s, 1 + k) are those of level and works; ``there`` (d, m) the heights of the
    shapes in use, ``place`` (s, k) each work's row in it.
    """

    means: Floats
    variances: Floats
    later: Floats
    amounts: Floats
    there: Floats
    place: Ints


def foretell(setting: Setting, states: States, points_mm: Floats) -> Foretold:
    """What every state foretells at ``points_mm`` (m, 2)."""
    search, data = setting.search, setting.data
    way, chosen = states.way, states.works
    amounts, cov = search.given(way, chosen).amounts(search.products)
    used, place = np.unique(
        np.where(chosen == NONE, 0, search.works.shape[chosen] - 1), return_inverse=True
    )
    place = place.reshape(chosen.shape)
    there = setting.shapes.at(points_mm, used)
    keep = ~data.gross
    kernel, rest_var = _kriging(data, keep, setting.habits, points_mm)
    ones_gap = 1 - kernel.sum(axis=1)
    gaps = there - setting.heights[used][:, keep] @ kernel.T
    terms = np.concatenate(
        [np.broadcast_to(ones_gap, (len(way), 1, len(points_mm))), gaps[place]], axis=1
    )
    means = np.einsum("sk,skm->sm", amounts, terms) + kernel @ data.y_um[keep]
    variances = np.einsum("skm,skm->sm", terms, np.matmul(cov, terms)) + rest_var
    bare = 1 - priors.covered(there)[place] * (chosen != NONE)[:, :, None]
    later = 1 - bare.prod(axis=1) * priors.plain_ways()[search.way[way]][:, None]
    return Foretold(means, variances, later, amounts, there, place)


def _kriging(
    data: Data, keep: NDArray[np.bool_], habits: Habits, points: Floats
) -> tuple[Floats, Floats]:
    """Kriging weights (m, n) of the spots kept and the variance left (m,)."""
    covariance = base_covariance(data, keep, within=habits.within, length_mm=habits.length_mm)
    cross = (habits.within * data.scale_um) ** 2 * matern52(
        distances_mm(points, data.spots_mm[keep]), length_mm=habits.length_mm
    )
    weights = cho_solve(cho_factor(covariance, lower=True), cross.T).T
    left = (habits.within * data.scale_um) ** 2 - (weights * cross).sum(axis=1)
    return weights, np.maximum(left, 0.0) + (priors.NUGGET_SHARE * data.scale_um) ** 2
