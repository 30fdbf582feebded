"""The film that is there now, spot by spot, from what was read last at each."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from asfound.base import Estimate
from asfound.measure.budget import Component, combine
from asfound.measure.film.gauges import gauge_lines
from asfound.measure.film.spots import READINGS_TO_JUDGE, Spot, gather_spots
from asfound.measure.film.survey import FilmSurvey, Reading
from asfound.measure.gauge import GaugeLine
from asfound.measure.polish.removal import Removal
from asfound.measure.polish.survey import PolishReading, PolishSurvey

Basis = Literal["read after polishing", "film reading", "film reading less the passes since"]
Area = tuple[str, str]
"""Panel and area."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PresentSpot:
    """Film at one spot now [µm], corrected for its gauge, and what it rests on."""

    spot: str
    x_mm: float | None
    y_mm: float | None
    film_um: Estimate
    basis: Basis


def lines_of(survey: PolishSurvey) -> dict[str, GaugeLine]:
    """The line of every gauge that film or polish readings name."""
    shown = tuple(
        Reading(
            panel=r.panel, spot=r.spot, x_mm=0.0, y_mm=0.0, thickness_um=r.after_um, gauge=r.gauge
        )
        for r in survey.readings
    )
    film = survey.film
    return gauge_lines(
        FilmSurvey(panels=film.panels, readings=(*film.readings, *shown), shims=film.shims)
    )


def spot_u_um(line: GaugeLine) -> float:
    """Standard uncertainty of a spot's mean from the gauge's repeats alone [µm].

    Notes
    -----
    A spot is the mean of at least three readings (SSPC-PA 2): s/√3, over the slope.
    """
    return line.repeatability_um.value / math.sqrt(READINGS_TO_JUDGE) / line.slope.value


def present_film(
    survey: PolishSurvey,
    *,
    lines: Mapping[str, GaugeLine],
    removals: Mapping[Area, Removal],
) -> dict[Area, tuple[PresentSpot, ...]]:
    """Present film of every area that was polished or has a floor.

    Parameters
    ----------
    survey : PolishSurvey
    lines : mapping of str to GaugeLine
        As :func:`lines_of` gives them.
    removals : mapping of (panel, area) to Removal
        What a pass took there; used on spots that were read before their area was polished.

    Notes
    -----
    The last reading after polishing stands, unless the film of the same spot was read on a later
    day. A spot that was only read before its area was polished keeps its film less the passes
    since then: r·k with the rate's doubt and k times the scatter of single passes. Same day or no
    day counts as before: that errs to the thin side. Film spots that no polish reading names
    belong to the panel as a whole.
    """
    found: dict[Area, dict[str, PresentSpot]] = {
        area: {}
        for area in [
            *((r.panel, r.area) for r in survey.readings),
            *((f.panel, f.floor.area) for f in survey.floors),
        ]
    }
    last = {(r.panel, r.spot): r for r in _in_time(survey)}
    for spot in gather_spots(survey.film, lines):
        polished = last.get((spot.panel, spot.spot))
        day = survey.film_days.get((spot.panel, spot.spot), "")
        if polished is not None and not (polished.day and day > polished.day):
            continue
        area = (spot.panel, polished.area if polished else "")
        if area in found:
            last.pop((spot.panel, spot.spot), None)
            passes_n = _passes_since(survey, area, day)
            found[area][spot.spot] = _of_film(spot, passes_n, removals, area)
    for reading in last.values():
        here = _of_polish(reading, lines[reading.gauge])
        found[reading.panel, reading.area][reading.spot] = here
    return {area: tuple(spots[name] for name in sorted(spots)) for area, spots in found.items()}


def _in_time(survey: PolishSurvey) -> list[PolishReading]:
    """Readings by day; within a day, and without one, as they were written down."""
    return sorted(survey.readings, key=lambda r: r.day)


def _passes_since(survey: PolishSurvey, area: Area, day: str) -> int:
    """Passes over the area since a day: of each session the most that any spot had."""
    sessions: dict[tuple[str, str], int] = {}
    for r in survey.readings:
        if (r.panel, r.area) == area and not (r.day and day and r.day < day):
            session = (r.day, r.process)
            sessions[session] = max(sessions.get(session, 0), r.passes_n)
    return sum(sessions.values())


def _of_film(
    spot: Spot, passes_n: int, removals: Mapping[Area, Removal], area: Area
) -> PresentSpot:
    removal = removals.get(area)
    if passes_n == 0 or removal is None:
        film = Estimate(value=spot.thickness_um, u=spot.u_um)
        basis: Basis = "film reading"
    else:
        rate = removal.per_pass_um
        u, dof = combine(
            [
                Component(u=spot.u_um),
                Component(u=rate.u, sensitivity=passes_n, dof=rate.dof),
                Component(u=removal.scatter_um, sensitivity=math.sqrt(passes_n), dof=rate.dof),
            ]
        )
        film = Estimate(value=spot.thickness_um - max(rate.value, 0.0) * passes_n, u=u, dof=dof)
        basis = "film reading less the passes since"
    return PresentSpot(spot=spot.spot, x_mm=spot.x_mm, y_mm=spot.y_mm, film_um=film, basis=basis)


def _of_polish(reading: PolishReading, line: GaugeLine) -> PresentSpot:
    corrected = line.correct(reading.after_um)
    u, dof = combine(
        [
            Component(u=spot_u_um(line), dof=line.repeatability_um.dof),
            Component(u=line.line_u_um(corrected.value), dof=line.offset_um.dof),
        ]
    )
    return PresentSpot(
        spot=reading.spot,
        x_mm=reading.x_mm,
        y_mm=reading.y_mm,
        film_um=Estimate(value=corrected.value, u=u, dof=dof),
        basis="read after polishing",
    )
