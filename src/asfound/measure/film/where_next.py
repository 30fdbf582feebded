"""Where the next spot tells most about whether, and how far, later work lies on a panel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from asfound.measure.field import distances_mm
from asfound.measure.film import priors
from asfound.measure.film.expected import UnmetWorks, of_met_works, of_unmet_works
from asfound.measure.film.foretell import Setting, States, distinct, foretell
from asfound.measure.film.histories import Histories
from asfound.measure.film.panel_model import Data
from asfound.measure.film.reading import NextSpot
from asfound.measure.film.search import NONE, Search
from asfound.measure.film.survey import Panel

Floats = NDArray[np.float64]
CANDIDATES_N = 70
PLACES_N = 90  # of the map, at which the verdict is weighed
EDGE_MM = 25.0  # a probe's width; common practice, readings nearer to an edge run off
GAP_MM = 40.0  # nearer than this a spot is the same spot (SSPC-PA 2: a circle of 4 cm)
TAKEN = -1.0  # less than any gain
APART_MM = 120.0  # about a hand's breadth: crosses nearer to each other tell the same thing


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Places (c, 2) on one panel and what a spot there is expected to tell [bit].

    ``gain_bits`` (2, c) is told of the works that spots have met and of works still unmet;
    ``same`` (2, c, c) is the share of what the second place tells that the first has told.
    """

    panel: str
    points_mm: Floats
    gain_bits: Floats
    same: Floats


def weigh_candidates(
    panel: Panel, setting: Setting, histories: Histories, points_mm: Floats, *, noise_um: float
) -> Candidates:
    """What a spot at some of ``points_mm`` is expected to tell about later work on the panel.

    Notes
    -----
    Information in bits about the verdict, later work or not, at places all over the panel,
    averaged over them (Lindley, Annals of Mathematical Statistics 27 (1956), 986–1005), and a
    share of what is told of the panel as a whole. Works that some spot has met are
    known by the few histories drawn; works that no spot has met are all weighed, since any few of
    them would leave to chance where to look. Places too near to the panel's edge for a probe, or to
    a spot already read, are left out, and near a spot little is left to be told of outlines. Two
    places tell the same of a work met as far as they are near, or as far as the histories that
    foretell more at one do so at the other (squared correlation); of works unmet, as far as both
    would meet them.
    """
    places = _free(panel, points_mm, setting.data.spots_mm)
    at, nodes = points_mm[places], points_mm[:: -(-len(points_mm) // PLACES_N)]
    unmet = np.asarray(setting.search.works.cover.sum(axis=1) == 0)
    states = _met(histories, unmet)
    told = foretell(setting, states, np.vstack([at, nodes]))
    n, weight = len(at), states.weight
    mean, var, later = told.means[:, :n], told.variances[:, :n], told.later[:, n:]
    # Beside a step a spot will miss its shape, as those did that were read.
    miss = priors.STEP_SHARE * _steps(setting.data, at, mean)
    met = of_met_works(weight, mean, np.sqrt(var + noise_um**2 + miss**2), later)
    near = np.exp(-0.5 * (distances_mm(at, at) / APART_MM) ** 2)
    yet = of_unmet_works(
        _still(setting.search, histories, unmet),
        setting.shapes,
        at_mm=at,
        nodes_mm=nodes,
        sd_um=np.sqrt(weight @ var + noise_um**2),
        p_later=weight @ later,
        p_touched=float(weight @ _touched(setting.search, states)),
    )
    return Candidates(
        panel.panel,
        at,
        np.array([met.gain_bits * _untold(at, setting.data.spots_mm), yet.gain_bits]),
        np.array([np.maximum(near, met.same), yet.same]),
    )


def _free(panel: Panel, points_mm: Floats, spots_mm: Floats) -> NDArray[np.int64]:
    edge = shapely.distance(panel.outline.boundary, shapely.points(points_mm))
    far = edge >= min(EDGE_MM, 0.5 * float(edge.max()))
    if len(spots_mm):
        apart = distances_mm(points_mm, spots_mm).min(axis=1)
        far &= apart >= min(GAP_MM, 0.7 * float(apart[far].max()))
    places = np.flatnonzero(far)
    return np.asarray(places[:: -(-len(places) // CANDIDATES_N)])


def _untold(at: Floats, spots_mm: Floats) -> Floats:
    """The share (c,) of what a place tells of outlines that the nearest spot has not told."""
    if not len(spots_mm):
        return np.ones(len(at))
    apart = distances_mm(at, spots_mm).min(axis=1)
    return np.asarray(1 - np.exp(-0.5 * (apart / APART_MM) ** 2))


def _met(histories: Histories, unmet: NDArray[np.bool_]) -> States:
    """The histories with the works left out that no spot has met."""
    works = histories.works
    works = np.where((works != NONE) & unmet[works], NONE, works)
    return distinct(histories.way, np.sort(works, axis=1), histories.weight)


def _touched(search: Search, states: States) -> NDArray[np.bool_]:
    """Whether the panel carries later work in each state (s,)."""
    plain = priors.plain_ways()[search.way[states.way]]
    return np.asarray((states.works != NONE).any(axis=1) | ~plain)


def _still(search: Search, histories: Histories, unmet: NDArray[np.bool_]) -> UnmetWorks:
    works = search.works
    return UnmetWorks(
        expected_n=histories.works_n[unmet],
        shape=works.shape[unmet] - 1,
        mean_um=np.abs(works.mean_um[unmet]),
        var=works.var[unmet],
    )


def _steps(data: Data, at: Floats, mean_um: Floats) -> Floats:
    """The greatest difference [µm] of each history's (s, c) film from the nearest spots."""
    if not len(data.y_um):
        return np.zeros_like(mean_um)
    near = np.argsort(distances_mm(at, data.spots_mm), axis=1, kind="stable")
    held = np.minimum(data.y_um, data.y_um[~data.gross].max())
    around = held[near[:, : priors.STEP_NEIGHBOURS_N]].T
    return np.asarray(np.abs(around[:, None] - mean_um).max(axis=0))


def choose_next(panels: Sequence[Candidates], *, count: int) -> tuple[NextSpot, ...]:
    """The best ``count`` places in the order of a walk from the best; fewer where too few are left.

    Each is worth only what those before it left untold, and none is the same spot as another.
    """
    gains = [candidates.gain_bits.copy() for candidates in panels]
    chosen: list[NextSpot] = []
    while len(chosen) < count:
        bests = [gain.sum(axis=0).max(initial=TAKEN) for gain in gains]
        which = int(np.argmax(bests))
        if bests[which] < 0:
            break
        there, gain = panels[which], gains[which]
        best = int(np.argmax(gain.sum(axis=0)))
        x_mm, y_mm = there.points_mm[best].tolist()
        chosen.append(
            NextSpot(panel=there.panel, x_mm=x_mm, y_mm=y_mm, gain_bits=float(bests[which]))
        )
        gain *= np.where(gain > 0, 1 - there.same[:, best], 1.0)
        gain[:, _one_spot(there.points_mm, best)] = TAKEN
    return _as_walked(chosen)


def _one_spot(points_mm: Floats, place: int) -> NDArray[np.bool_]:
    """Which places are the same spot as one of them."""
    return np.asarray(distances_mm(points_mm, points_mm[[place]])[:, 0] < GAP_MM)


def _as_walked(spots: Sequence[NextSpot]) -> tuple[NextSpot, ...]:
    """Panel by panel as the best of each come, and on a panel from its best on to the nearest."""
    by_panel: dict[str, list[NextSpot]] = {}
    for spot in spots:
        by_panel.setdefault(spot.panel, []).append(spot)
    return tuple(spot for there in by_panel.values() for spot in _to_the_nearest(there))


def _to_the_nearest(spots: Sequence[NextSpot]) -> list[NextSpot]:
    """The first of the spots, and after each the nearest of those left."""
    walked, left = [spots[0]], list(spots[1:])
    while left:
        here = walked[-1]
        away = [math.hypot(spot.x_mm - here.x_mm, spot.y_mm - here.y_mm) for spot in left]
        walked.append(left.pop(int(np.argmin(away))))
    return walked
