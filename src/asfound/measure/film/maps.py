"""The film over a panel and the outlines of its local works, averaged over its histories."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve
from shapely import Polygon, contains_xy

from asfound.measure.field import distances_mm, matern52
from asfound.measure.film import priors
from asfound.measure.film.car_level import Habits
from asfound.measure.film.histories import Histories
from asfound.measure.film.panel_model import KINDS, Data, base_covariance
from asfound.measure.film.reading import LaterWorkArea
from asfound.measure.film.search import NONE, Search
from asfound.measure.film.shapes import Shapes
from asfound.measure.film.sheet import Sheet, outline_above

Floats = NDArray[np.float64]
OUTLINED = 0.5  # an outline runs through the middle of a feather
LEAST_DRAWN_UM = 25.0  # less than a coat
LONE_REACH = 0.5  # a gross spot speaks for half the way to its neighbours


@dataclass(frozen=True, slots=True, eq=False)
class Map:
    """Fields at the nodes inside a panel, and what the search for the next spot needs.

    ``means`` and ``variances`` (s, m) are each history's prediction of a new spot's mean, and
    ``later`` (s, m) is 1 where it holds the place for later work.
    """

    film_um: Floats
    u_um: Floats
    p_local: Floats
    by_kind: Floats  # (kinds, m)
    p_later: Floats
    weight: Floats
    means: Floats
    variances: Floats
    later: Floats


def draw_map(
    search: Search,
    histories: Histories,
    *,
    data: Data,
    shapes: Shapes,
    heights: Floats,
    habits: Habits,
    points_mm: Floats,
) -> Map:
    """The map at ``points_mm`` (m, 2)."""
    # Histories that occur twice are worked out once.
    states = np.column_stack([histories.way, histories.works])
    states, twin = np.unique(states, axis=0, return_inverse=True)
    weight = np.bincount(twin.ravel(), weights=histories.weight).astype(np.float64)
    way, chosen = states[:, 0], states[:, 1:]
    amounts, cov = search.given(way, chosen).amounts(search.products)
    used, place = np.unique(
        np.where(chosen == NONE, 0, search.works.shape[chosen] - 1), return_inverse=True
    )
    place = place.reshape(chosen.shape)
    there = shapes.at(points_mm, used)
    keep = ~data.gross
    kernel, rest_var = _kriging(data, keep, habits, points_mm)
    ones_gap = 1 - kernel.sum(axis=1)
    gaps = there - heights[used][:, keep] @ kernel.T
    terms = np.concatenate(
        [np.broadcast_to(ones_gap, (len(way), 1, len(points_mm))), gaps[place]], axis=1
    )
    means = np.einsum("sk,skm->sm", amounts, terms) + kernel @ data.y_um[keep]
    variances = np.einsum("skm,skm->sm", terms, np.matmul(cov, terms)) + rest_var
    film = weight @ means
    u2 = weight @ (variances + (means - film) ** 2)
    film, u2 = _lift_gross(data, film, u2, points_mm)
    covered = (there >= priors.COVERED)[place] & (chosen != NONE)[:, :, None]
    kind = search.works.kind[chosen]
    drawn = (there >= OUTLINED)[place] & (chosen != NONE)[:, :, None]
    # Works that lie in each other's place may cancel: what is drawn must be there in sum.
    added = np.einsum("sk,skm->sm", amounts[:, 1:], there[place])
    drawn &= (np.abs(added) >= LEAST_DRAWN_UM)[:, None, :]
    adds = drawn & (kind != 2)[:, :, None]
    by_kind = np.array([weight @ (drawn & (kind == k)[:, :, None]).any(axis=1) for k in range(3)])
    p_local = weight @ adds.any(axis=1)
    work = covered.any(axis=1) | ~priors.plain_ways()[search.way[way]][:, None]
    return Map(
        film,
        np.sqrt(u2),
        p_local,
        by_kind,
        weight @ work,
        weight,
        means,
        variances,
        work.astype(np.float64),
    )


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


def _lift_gross(data: Data, film: Floats, u2: Floats, points: Floats) -> tuple[Floats, Floats]:
    """The film raised to the gross spots, half the way to their neighbours."""
    if not data.gross.any():
        return film, u2
    at = data.spots_mm
    apart = distances_mm(at, at)
    apart[apart < 1.0] = np.inf
    reach = float(np.clip(LONE_REACH * np.median(apart.min(axis=1)), 30.0, 200.0))
    nearest = distances_mm(at, points).argmin(axis=1)
    lift = np.where(data.gross, data.y_um - film[nearest], 0.0)
    alike = np.exp(-0.5 * (distances_mm(at, at) / reach) ** 2) + 1e-4 * np.eye(len(at))
    to = np.exp(-0.5 * (distances_mm(points, at) / reach) ** 2)
    raised = np.maximum(to @ np.linalg.solve(alike, lift), 0.0)
    # Between filler and its surround the thickness is anyone's guess: half of the lift.
    near = to[:, data.gross].max(axis=1)
    return film + raised, u2 + (0.5 * raised * (1 - near**4)) ** 2


def outline_works(sheet: Sheet, drawn: Map, data: Data) -> tuple[LaterWorkArea, ...]:
    """The areas where local work is more likely than not."""
    areas = []
    for values, thin in ((drawn.p_local, False), (drawn.by_kind[2], True)):
        for piece in outline_above(sheet, values):
            inside = sheet.inside_of(piece)
            kind = 2 if thin else _main_kind(drawn, data, piece, inside)
            most = float(values[inside].max())
            areas.append(LaterWorkArea(kind=KINDS[kind], probability=min(most, 1.0), outline=piece))
    return tuple(areas)


def _main_kind(drawn: Map, data: Data, piece: Polygon, inside: NDArray[np.bool_]) -> int:
    if data.gross.any() and contains_xy(piece, *data.spots_mm[data.gross].T).any():
        return 1
    share = drawn.by_kind[:2, inside].sum(axis=1)
    return int(np.argmax(share))
