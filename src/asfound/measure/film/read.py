"""The reading of a finish, from survey to map."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.film.gauges import corrections, gauge_lines
from asfound.measure.film.reading import (
    FilmReading,
    LaterWorkArea,
    NextSpot,
    PanelReading,
    SpotReading,
    Surface,
)
from asfound.measure.film.sheet import Sheet, make_sheet, outline_above
from asfound.measure.film.spots import Spot, gather_spots
from asfound.measure.film.survey import FilmSurvey, Panel


def read_film(
    survey: FilmSurvey,
    *,
    seed: int = 0,
    next_spots_n: int = 8,
    progress: Callable[[float], None] | None = None,
) -> FilmReading:
    """Where the finish carries later work, how sure that is, and where to measure next."""
    lines = gauge_lines(survey)
    spots = gather_spots(survey, lines)
    if not spots:
        raise NotEnoughEvidenceError("No gauge readings: the finish cannot be read.")
    by_panel = {p.panel: [s for s in spots if s.panel == p.panel] for p in survey.panels}
    medians = [float(np.median([s.thickness_um for s in v])) for v in by_panel.values() if v]
    level = Estimate(value=float(np.median(medians)), u=0.05 * float(np.median(medians)))
    panels, nexts = [], []
    for i, panel in enumerate(sorted(survey.panels, key=lambda p: p.panel)):
        reading, spot = _read_panel(panel, by_panel[panel.panel], level.value)
        panels.append(reading)
        nexts.append(spot)
        if progress:
            progress((i + 1) / len(survey.panels))
    nexts.sort(key=lambda s: -s.gain_bits)
    return FilmReading(
        level_um=level,
        gauges=corrections(lines, level_um=level.value),
        panels=tuple(panels),
        next_spots=tuple(nexts[:next_spots_n]),
    )


def _p(excess: NDArray[np.float64], level: float) -> NDArray[np.float64]:
    z = excess / (0.09 * level)
    plain = 0.85 * np.exp(-0.5 * z**2) / (0.09 * level)
    work = 0.15 * (0.9 * (ndtr(z) - ndtr(z - 30)) + 0.1 * ndtr(-z)) / (2 * level) * 2.5
    return np.asarray(work / (plain + work))


def _near(
    sheet: Sheet, xy: NDArray[np.float64], values: NDArray[np.float64]
) -> NDArray[np.float64]:
    d2 = ((sheet.points_mm[:, None, :] - xy[None]) ** 2).sum(-1)
    w = np.exp(-d2 / (2 * 80.0**2)) + 1e-9
    return np.asarray(w @ values / w.sum(1))


def _read_panel(panel: Panel, spots: list[Spot], level: float) -> tuple[PanelReading, NextSpot]:
    sheet = make_sheet(panel.outline)
    y = np.array([s.thickness_um for s in spots])
    xy = np.array([[s.x_mm, s.y_mm] for s in spots]).reshape(-1, 2)
    p = _p(y - level, level)
    grid_p = _near(sheet, xy, p) if len(spots) else np.full(len(sheet.points_mm), 0.15)
    film = _near(sheet, xy, y) if len(spots) else np.full(len(sheet.points_mm), level)
    most = float(p.max()) if len(spots) else 0.15
    areas = tuple(
        LaterWorkArea(kind="local respray", probability=most, outline=piece)
        for piece in outline_above(sheet, grid_p)
    )
    far = ((sheet.points_mm[:, None] - xy[None]) ** 2).sum(-1).min(1) if len(spots) else film
    best = int(np.argmax(far))
    at = sheet.points_mm[best]
    reading = PanelReading(
        panel=panel.panel,
        spots_n=len(spots),
        median_um=float(np.median(y)) if len(spots) else level,
        spread_um=float(y.std(ddof=1)) if len(spots) > 1 else 0.0,
        p_later_work=most,
        lr_later_work=float(np.clip(most / max(1 - most, 1e-9) * 4, 1e-9, 1e9)),
        kinds={"local respray": most},
        spots=tuple(
            SpotReading(
                spot=s.spot,
                x_mm=s.x_mm,
                y_mm=s.y_mm,
                readings_n=s.readings_n,
                thickness_um=s.thickness_um,
                u_um=s.u_um,
                p_later_work=float(q),
                kinds={"local respray": float(q)},
            )
            for s, q in zip(spots, p, strict=True)
        ),
        areas=areas,
        surface=Surface(
            x_mm=sheet.x_mm,
            y_mm=sheet.y_mm,
            film_um=sheet.field(film),
            u_um=sheet.field(np.full_like(film, 0.07 * level)),
            p_later_work=sheet.field(grid_p),
        ),
    )
    gain = 0.05 * float(np.sqrt(far[best])) / 500
    return reading, NextSpot(
        panel=panel.panel, x_mm=float(at[0]), y_mm=float(at[1]), gain_bits=gain
    )
