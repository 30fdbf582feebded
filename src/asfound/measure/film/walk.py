"""Histories walked on: the ellipses of their works move freely, not only among those tried."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.linalg import solve_triangular

from asfound.measure.film import priors
from asfound.measure.film.ellipses import Box, ellipses_at
from asfound.measure.film.foretell import Setting, filled
from asfound.measure.film.histories import Histories
from asfound.measure.film.panel_model import (
    base_covariance,
    list_works,
    log_gain_past_least,
    log_sum,
    whiten,
)
from asfound.measure.film.search import NONE, pick, shares
from asfound.measure.film.shapes import Shapes, nearest_mm

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
ROUNDS_N = 8
STEPS_N = 16  # of one work a round
FINEST = 0.05  # the shortest steps against the longest
# The longest steps, of the box's coordinates: the place as far as a spot's neighbour usually
# lies, the logarithm of the radius, and the shares of aspect, turn and feather.
LONGEST = np.array([1.0, 1.0, 0.4, 0.6, 0.4, 0.6])
# A step moves and sizes, or sizes and shapes, or does all at once.
MOVED = np.array([[1, 1, 1, 0, 0, 0], [0, 0, 1, 1, 1, 1], [1, 1, 1, 1, 1, 1]])
MEANS_UM = np.array([amount.mean_um for amount in priors.ADDED])
SDS_UM = np.array([amount.sd_um for amount in priors.ADDED])
LOG_WEIGHTS = np.log([amount.weight for amount in priors.ADDED])


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """What stays: the panel, its spots and their readings, whitened."""

    setting: Setting
    box: Box
    longest: Floats
    unroot: Floats  # (n kept, n kept): whitens what the spots kept read
    y: Floats
    kept: Flags


@dataclass(slots=True, eq=False)
class _Walkers:
    """Histories (c,) with k works each.

    ``free`` (c, k) marks ellipses, which may move: they lie at ``place`` (c, k, 6) and have the
    amounts ``amount`` points to in :data:`priors.ADDED`. ``mean_um`` and ``var`` are the priors of
    every work's amount, ``height`` (c, k, n) its heights at the spots.
    """

    way: Ints
    free: Flags
    place: Floats
    amount: Ints
    mean_um: Floats
    var: Floats
    height: Floats


def walk(
    setting: Setting, histories: Histories, outline: shapely.Polygon
) -> tuple[Setting, Histories]:
    """The histories with ellipses of their own, and the setting that holds those.

    Notes
    -----
    Metropolis steps of all histories abreast, each with one of its works at a time, given the
    others, amounts integrated out. The steps are taken in coordinates in which the prior is
    even but for the radius, so that a step is taken or not by the readings and the radius alone.
    """
    walkers = _set_out(setting, histories)
    if not (walkers.free.any() and len(setting.data.y_um)):
        return setting, histories
    ground = _ground(setting, outline)
    for _ in range(ROUNDS_N):
        _walk_one_each(ground, walkers)
    return _arrived(setting, histories, walkers)


def _ground(setting: Setting, outline: shapely.Polygon) -> _Ground:
    data, habits = setting.data, setting.habits
    kept = ~data.gross
    covariance = base_covariance(data, kept, within=habits.within, length_mm=habits.length_mm)
    unroot = solve_triangular(np.linalg.cholesky(covariance), np.eye(kept.sum()), lower=True)
    longest = LONGEST.copy()
    longest[:2] *= np.median(nearest_mm(data.spots_mm))
    shapely.prepare(outline)
    return _Ground(setting, Box(outline), longest, unroot, unroot @ data.y_um[kept], kept)


def _set_out(setting: Setting, histories: Histories) -> _Walkers:
    works, ellipses_n = setting.search.works, setting.shapes.ellipses_n
    chosen = filled(histories.works)
    absent = chosen == NONE
    e = np.where(absent, 0, chosen)
    shape = works.shape[e] - 1
    free = ~absent & (shape < ellipses_n)
    return _Walkers(
        way=histories.way,
        free=free,
        place=Box.coordinates(setting.shapes.ellipses[np.where(free, shape, 0)]),
        amount=np.where(free, e // ellipses_n, 0),
        mean_um=np.where(absent, 0.0, works.mean_um[e]),
        var=np.where(absent, 1e-9, works.var[e]),
        height=np.where(absent[:, :, None], 0.0, setting.heights[shape]),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Rest:
    """What the other terms of some histories (c,), once integrated out, leave to one more work."""

    columns: Floats  # (c, k, n) theirs, whitened, times a root of their amounts' covariance
    y: Floats  # (c, n)
    bare: Floats  # (c, gross spots) how far each lies outside them


def _rest(ground: _Ground, walkers: _Walkers, at: tuple[Ints, Ints]) -> _Rest:
    """What is left to the works ``at`` rows and slots of the walkers."""
    search, way = ground.setting.search, walkers.way[at[0]]
    other = np.arange(walkers.free.shape[1]) != at[1][:, None]
    height = walkers.height[at[0]] * other[:, :, None]
    level = np.broadcast_to(ground.unroot.sum(axis=1), (len(way), 1, len(ground.y)))
    columns = np.concatenate([level, height[:, :, ground.kept] @ ground.unroot.T], axis=1)
    mean = np.column_stack([search.mean_um[way], walkers.mean_um[at[0]] * other])
    var = np.column_stack([search.var[way], walkers.var[at[0]]])
    inverse = columns @ columns.transpose(0, 2, 1)
    off = columns @ ground.y - np.einsum("ckl,cl->ck", inverse, mean)
    inverse += np.einsum("ck,kl->ckl", 1 / var, np.eye(var.shape[1]))
    cov = np.linalg.inv(inverse)
    pull = np.einsum("ckl,cl->ck", cov, off) + mean
    return _Rest(
        np.linalg.cholesky(cov).transpose(0, 2, 1) @ columns,
        ground.y - np.einsum("ck,ckn->cn", pull, columns),
        (1 - priors.covered(height[:, :, ~ground.kept])).prod(axis=1),
    )


def _log_gains(ground: _Ground, rest: _Rest, height: Floats) -> Floats:
    """Log weight (c, amounts) of a work with ``height`` (c, n) beside the rest."""
    column = height[:, ground.kept] @ ground.unroot.T
    held = (rest.columns @ column[:, :, None])[:, :, 0]
    a = np.maximum((column**2).sum(axis=1) - (held**2).sum(axis=1), 0.0)
    b = (column * rest.y).sum(axis=1)
    gain = log_gain_past_least(
        1 + a[:, None] * SDS_UM**2,
        b[:, None] * SDS_UM + MEANS_UM / SDS_UM,
        priors.ADDED_LEAST_UM / SDS_UM,
    )
    gain += LOG_WEIGHTS - 0.5 * (MEANS_UM / SDS_UM) ** 2
    if rest.bare.size:
        missed = (rest.bare * (1 - priors.covered(height[:, ~ground.kept]))).sum(axis=1)
        gain -= priors.GROSS_PENALTY * missed[:, None]
    return np.asarray(gain)


def _walk_one_each(ground: _Ground, walkers: _Walkers) -> None:
    """Moves one ellipse of each history, picked at random, then redraws its amount."""
    rng, spots = ground.setting.search.rng, ground.setting.data.spots_mm
    rows = np.flatnonzero(walkers.free.any(axis=1))
    at = rows, (rng.random(walkers.free.shape) * walkers.free)[rows].argmax(axis=1)
    rest, place, height = _rest(ground, walkers, at), walkers.place[at], walkers.height[at]
    gains = _log_gains(ground, rest, height)
    total = log_sum(gains, axis=1)
    for step in range(STEPS_N):
        reach = FINEST ** rng.random((len(rows), 1)) * ground.longest * MOVED[step % len(MOVED)]
        there = ground.box.within(place + reach * rng.standard_normal(place.shape))
        new = ellipses_at(Box.ellipses(there), spots)
        new_gains = _log_gains(ground, rest, new)
        new_total = log_sum(new_gains, axis=1)
        rise = new_total - total + there[:, 2] - place[:, 2]  # radii are even, not their logarithms
        taken = ground.box.holds(there) & (np.log(rng.random(len(rows))) < rise)
        place[taken], height[taken], gains[taken] = there[taken], new[taken], new_gains[taken]
        total[taken] = new_total[taken]
    amount = pick(shares(gains), rng)
    walkers.place[at], walkers.height[at], walkers.amount[at] = place, height, amount
    walkers.mean_um[at], walkers.var[at] = MEANS_UM[amount], SDS_UM[amount] ** 2


def _arrived(
    setting: Setting, histories: Histories, walkers: _Walkers
) -> tuple[Setting, Histories]:
    """The walkers' works numbered anew, among no ellipses but their own."""
    data, habits, free = setting.data, setting.habits, walkers.free
    own_n, kinds_n = int(free.sum()), len(priors.ADDED)
    shapes = Shapes(Box.ellipses(walkers.place[free]), np.zeros(own_n), setting.shapes.bands)
    heights = shapes.at(data.spots_mm)
    works = filled(histories.works).copy()
    works[works != NONE] += kinds_n * (own_n - setting.shapes.ellipses_n)  # the bands come last
    works[free] = walkers.amount[free] * own_n + np.arange(own_n)
    search = replace(
        setting.search,
        products=whiten(data, heights, within=habits.within, length_mm=habits.length_mm),
        works=list_works(heights, shapes.log_odds, data.scale_um),
    )
    told = replace(setting, search=search, shapes=shapes, heights=heights)
    return told, replace(histories, works=works)
