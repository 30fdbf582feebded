"""One panel read against its car."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from asfound.measure.field import distances_mm
from asfound.measure.film import priors
from asfound.measure.film.car import CarLevel, Habits
from asfound.measure.film.car_level import Sketch, panel_levels
from asfound.measure.film.foretell import Setting
from asfound.measure.film.histories import (
    Grown,
    Histories,
    exact_histories,
    grow_histories,
    one_each,
    redrawn_histories,
)
from asfound.measure.film.maps import Map, draw_map, outline_works
from asfound.measure.film.panel_model import KINDS, Data, list_works, whiten
from asfound.measure.film.reading import Kind, PanelReading, SpotReading, Surface
from asfound.measure.film.search import NONE, Search
from asfound.measure.film.shapes import Shapes, breed, make_shapes
from asfound.measure.film.sheet import Sheet, make_sheet
from asfound.measure.film.spots import Spot
from asfound.measure.film.steady import KEPT_N
from asfound.measure.film.survey import Panel
from asfound.measure.film.walk import walk
from asfound.measure.film.where_next import Candidates, weigh_candidates
from asfound.measure.gauge import GaugeLine

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
LR_LIMITS = (1e-9, 1e9)
SKETCH_STEP, SKETCH_BANDS = 5, 4
CLOSER = 0.4  # the second litter lies this much closer to its parents than the first
WAY_KINDS: tuple[Kind, ...] = ("refinished over", "stripped and refinished")


@dataclass(frozen=True, slots=True, eq=False)
class PanelCase:
    """A panel made ready: its spots as numbers, its sheet and the shapes tried on it."""

    panel: Panel
    spots: tuple[Spot, ...]
    data: Data
    shapes: Shapes
    heights: Floats
    sketch: Sketch


def _sketch(data: Data, shapes: Shapes, heights: Floats) -> Sketch:
    """The panel with a fifth of the ellipses and a fourth of the bands, for the car's level."""
    few = np.concatenate(
        [
            np.arange(0, shapes.ellipses_n, SKETCH_STEP),
            np.arange(shapes.ellipses_n + SKETCH_BANDS - 1, shapes.count, SKETCH_BANDS),
        ]
    )
    count = len(range(0, shapes.ellipses_n, SKETCH_STEP))
    even = np.full(count, -np.log(count))
    return Sketch(data, heights[few], list_works(heights[few], even, data.scale_um))


@lru_cache(maxsize=KEPT_N)
def make_case(
    panel: Panel, spots: tuple[Spot, ...], lines: tuple[tuple[str, GaugeLine], ...]
) -> PanelCase:
    """The case of ``panel`` with its ``spots`` (may be none) and every gauge's line by name.

    Equal panels, spots and lines give the same object, which stands for them from here on.
    """
    at = np.array([[s.x_mm, s.y_mm] for s in spots]).reshape(-1, 2)
    y = np.array([s.thickness_um for s in spots])
    shapes = make_shapes(panel.outline, at)
    usual = float(np.quantile(y, 0.35)) if len(y) else 1.0
    gross = y > usual * (1 + priors.GROSS_SHARE) + priors.GROSS_UM
    noise = _noise(spots, dict(lines)) + np.diag((priors.STEP_SHARE * _steps(at, y, gross)) ** 2)
    data = Data(at, y, noise, gross, max(usual, 10.0))
    heights = shapes.at(at)
    return PanelCase(panel, spots, data, shapes, heights, _sketch(data, shapes, heights))


def _steps(at: Floats, y: Floats, gross: NDArray[np.bool_]) -> Floats:
    """The greatest difference [µm] of each spot (n,) from its nearest neighbours."""
    if len(y) < 2:
        return np.zeros(len(y))
    near = np.argsort(distances_mm(at, at), axis=1, kind="stable")
    near = near[:, 1 : priors.STEP_NEIGHBOURS_N + 1]
    held = np.minimum(y, y[~gross].max())
    return np.asarray(np.abs(held[near] - held[:, None]).max(axis=1))


def _noise(spots: Sequence[Spot], lines: Mapping[str, GaugeLine]) -> Floats:
    """Covariance of the spots' errors; with several gauges, each one's line errs as a whole."""
    noise = np.diag([s.scatter_um**2 for s in spots])
    if len(lines) > 1:
        own = np.array([s.gauge for s in spots])
        line_u = np.array([lines[s.gauge].line_u_um(s.thickness_um) for s in spots])
        noise = noise + np.where(own[:, None] == own[None], np.outer(line_u, line_u), 0.0)
    return np.asarray(noise).reshape(len(spots), len(spots))


@lru_cache(maxsize=KEPT_N)
def read_panel(
    case: PanelCase, level: CarLevel, habits: Habits, share: float, seed: tuple[int, int]
) -> tuple[PanelReading, Candidates]:
    """The reading of one panel and the places worth a next spot on it.

    ``share`` is the prior probability that the panel carries later work.
    """
    data, rng = case.data, np.random.Generator(np.random.PCG64(seed))
    search = _search(case, level, habits, share, rng)
    grown = grow_histories(search)
    if grown.plain:
        histories = exact_histories(search, grown)
    else:
        case, search = _closer(case, search, grown, habits)
        case, search = _closer(case, search, grow_histories(search), habits, CLOSER)
        # The odds of the panel are exact with shapes strewn evenly, and estimates with bred ones.
        again = replace(grow_histories(search), log_odds=grown.log_odds)
        histories = redrawn_histories(search, again)
    sheet = make_sheet(case.panel.outline)
    setting = Setting(search, data, case.shapes, case.heights, habits)
    told = (setting, histories) if grown.plain else walk(setting, histories, case.panel.outline)
    drawn = draw_map(*told, sheet.points_mm)
    noise = float(np.median([s.scatter_um for s in case.spots])) if case.spots else 1.0
    candidates = weigh_candidates(case.panel, setting, histories, sheet.points_mm, noise_um=noise)
    return _told(case, histories, sheet, drawn, share), candidates


def _search(
    case: PanelCase, level: CarLevel, habits: Habits, share: float, rng: np.random.Generator
) -> Search:
    times = priors.odds_times(share)
    data, levels = case.data, panel_levels(level, habits.between, times)
    return Search(
        whiten(data, case.heights, within=habits.within, length_mm=habits.length_mm),
        list_works(case.heights, case.shapes.log_odds, data.scale_um),
        levels.mean_um,
        levels.var,
        levels.log_weight,
        levels.way,
        np.log(priors.patch_odds(times)),
        data.gross,
        rng,
    )


def _closer(
    case: PanelCase, search: Search, grown: Grown, habits: Habits, closeness: float = 1.0
) -> tuple[PanelCase, Search]:
    """The case and search with children of the ellipses that histories use, many works or one."""
    before = case.shapes.ellipses_n
    chosen = np.concatenate([grown.chosen[grown.chosen != NONE], one_each(search, grown)])
    used = search.works.shape[chosen] - 1
    used = used[used < before]
    if not used.size:
        return case, search
    shapes = breed(case.shapes, used, case.panel.outline, search.rng, closeness=closeness)
    case = replace(case, shapes=shapes, heights=shapes.at(case.data.spots_mm))
    search = replace(
        search,
        products=whiten(case.data, case.heights, within=habits.within, length_mm=habits.length_mm),
        works=list_works(case.heights, shapes.log_odds, case.data.scale_um),
    )
    return case, search


def _told(
    case: PanelCase, histories: Histories, sheet: Sheet, drawn: Map, prior: float
) -> PanelReading:
    y = case.data.y_um
    covered = histories.covered
    p = 1 / (1 + np.exp(-np.clip(histories.log_odds, -60, 60)))
    lr = np.exp(np.clip(histories.log_odds - np.log(prior / (1 - prior)), *np.log(LR_LIMITS)))
    local = histories.by_kind.max(axis=1) if len(y) else np.zeros(len(KINDS))
    spots = tuple(_spot_told(case, histories, i) for i in range(len(y)))
    return PanelReading(
        panel=case.panel.panel,
        spots_n=len(y),
        median_um=float(np.median(y)) if len(y) else float(np.median(drawn.film_um)),
        spread_um=float(y.std(ddof=1)) if len(y) > 1 else 0.0,
        p_later_work=float(max(p, covered.max(initial=0.0))),
        lr_later_work=float(np.clip(lr, *LR_LIMITS)),
        kinds=_at_least_as_at(spots, _kinds(local, histories.by_way)),
        spots=spots,
        areas=outline_works(sheet, drawn, case.data),
        surface=Surface(
            x_mm=_sealed(sheet.x_mm),
            y_mm=_sealed(sheet.y_mm),
            film_um=_sealed(sheet.field(drawn.film_um)),
            u_um=_sealed(sheet.field(drawn.u_um)),
            p_later_work=_sealed(sheet.field(np.clip(drawn.p_later, 0.0, 1.0))),
        ),
    )


def _sealed(values: Floats) -> Floats:
    """``values``, not to be written to: readings of the same panel share them."""
    values.setflags(write=False)
    return values


def _kinds(local: Floats, by_way: Floats) -> dict[Kind, float]:
    told: dict[Kind, float] = {
        "local respray": local[0],
        "filler": local[1],
        "polished thin": local[2],
    }
    for kind in WAY_KINDS:
        told[kind] = sum(
            p for way, p in zip(priors.LEVEL_WAYS, by_way, strict=True) if way.kind == kind
        )
    return {kind: float(np.clip(p, 0.0, 1.0)) for kind, p in told.items()}


def _at_least_as_at(spots: tuple[SpotReading, ...], kinds: dict[Kind, float]) -> dict[Kind, float]:
    """What occurs at a spot occurs on its panel."""
    return {kind: max([p, *(spot.kinds[kind] for spot in spots)]) for kind, p in kinds.items()}


def _spot_told(case: PanelCase, histories: Histories, i: int) -> SpotReading:
    """A spot as told; where kinds may go together, its probability is shared out among them."""
    spot, p = case.spots[i], float(histories.covered[i])
    local = histories.by_kind[:, i].copy()
    if case.data.gross[i]:
        local = np.array([0.0, p, 0.0])
    kinds = _kinds(local, histories.by_way)
    total = sum(kinds.values()) or 1.0
    return SpotReading(
        spot=spot.spot,
        x_mm=spot.x_mm,
        y_mm=spot.y_mm,
        readings_n=spot.readings_n,
        thickness_um=spot.thickness_um,
        u_um=spot.u_um,
        p_later_work=p,
        kinds={kind: p * share / total for kind, share in kinds.items()},
    )
