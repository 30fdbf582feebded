"""The film over a panel and the outlines of its local works, averaged over its histories."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon, contains_xy

from asfound.measure.field import distances_mm
from asfound.measure.film.apart import expected_overlap, one_by_one, put_together
from asfound.measure.film.foretell import Setting, distinct, foretell
from asfound.measure.film.histories import Histories
from asfound.measure.film.panel_model import KINDS, Data
from asfound.measure.film.reading import LaterWorkArea
from asfound.measure.film.search import NONE
from asfound.measure.film.sheet import Sheet, outline_above

Floats = NDArray[np.float64]
OUTLINED = 0.5  # an outline runs through the middle of a feather
LEAST_DRAWN_UM = 25.0  # less than a coat
APART_MORE = 0.15  # works are drawn apart where that is expected to overlap so much better
LONE_REACH = 0.5  # a gross spot speaks for half the way to its neighbours


@dataclass(frozen=True, slots=True, eq=False)
class Map:
    """Fields at the nodes inside a panel."""

    film_um: Floats
    u_um: Floats
    p_local: Floats
    by_kind: Floats  # (kinds, m)
    p_later: Floats
    adds: NDArray[np.bool_]  # (s, k, m) where each work of every history adds film
    weight: Floats  # (s,) of every history


def draw_map(setting: Setting, histories: Histories, points_mm: Floats) -> Map:
    """The map at ``points_mm`` (m, 2)."""
    states = distinct(histories.way, histories.works, histories.weight)
    told, chosen, weight = foretell(setting, states, points_mm), states.works, states.weight
    there, place = told.there, told.place
    film = weight @ told.means
    u2 = weight @ (told.variances + (told.means - film) ** 2)
    film, u2 = _lift_gross(setting.data, film, u2, points_mm)
    kind = setting.search.works.kind[chosen]
    drawn = (there >= OUTLINED)[place] & (chosen != NONE)[:, :, None]
    # Works that lie in each other's place may cancel: what is drawn must be there in sum.
    added = np.einsum("sk,skm->sm", told.amounts[:, 1:], there[place])
    drawn &= (np.abs(added) >= LEAST_DRAWN_UM)[:, None, :]
    adds = drawn & (kind != 2)[:, :, None]
    by_kind = np.array([weight @ (drawn & (kind == k)[:, :, None]).any(axis=1) for k in range(3)])
    p_local = weight @ adds.any(axis=1)
    return Map(film, np.sqrt(u2), p_local, by_kind, weight @ told.later, adds, weight)


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
    maps = [(values, False) for values in _best_apart(sheet, drawn)] + [(drawn.by_kind[2], True)]
    for values, thin in maps:
        for piece in outline_above(sheet, values):
            inside = sheet.inside_of(piece)
            kind = 2 if thin else _main_kind(drawn, data, piece, inside)
            most = float(values[inside].max())
            areas.append(LaterWorkArea(kind=KINDS[kind], probability=min(most, 1.0), outline=piece))
    return tuple(areas)


def _best_apart(sheet: Sheet, drawn: Map) -> Floats:
    """One map of all works, or one a work (maps, m): whose outlines will overlap the works most."""
    works = put_together(drawn.adds)
    tried = [drawn.p_local[None], *one_by_one(works, drawn.weight)]
    if len(tried) == 1:
        return tried[0]
    worth = []
    for maps in tried:
        pieces = [piece for values in maps for piece in outline_above(sheet, values)]
        held = [sheet.inside_of(piece) for piece in pieces]
        worth.append(expected_overlap(works, drawn.weight, held))
    best = int(np.argmax(worth))
    return tried[best if worth[best] > worth[0] + APART_MORE else 0]


def _main_kind(drawn: Map, data: Data, piece: Polygon, inside: NDArray[np.bool_]) -> int:
    if data.gross.any() and contains_xy(piece, *data.spots_mm[data.gross].T).any():
        return 1
    share = drawn.by_kind[:2, inside].sum(axis=1)
    return int(np.argmax(share))
