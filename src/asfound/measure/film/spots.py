"""Spots: the mean of the corrected readings at one place, and how far it can be trusted."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from statistics import fmean, median

import numpy as np
from numpy.typing import NDArray

from asfound.base import InputError
from asfound.measure.film.steady import SCATTER_STEP, beside, steady
from asfound.measure.film.survey import FilmSurvey, Reading
from asfound.measure.gauge import GaugeLine

# A reading is odd when it misses the mean of the others by more than this many times the
# scatter usual on the car; common practice puts the line at three, but here the scatter is
# pooled from few repeats and a discarded true reading costs more than a kept odd one.
ODD_SCATTERS = 5.0
READINGS_TO_JUDGE = 3  # SSPC-PA 2: a spot is the mean of three readings or more


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A spot before it is interpreted.

    ``scatter_um`` is the standard uncertainty of the mean from repeats alone; ``u_um`` holds
    the gauge's line as well.
    """

    panel: str
    spot: str
    x_mm: float
    y_mm: float
    readings_n: int
    thickness_um: float
    scatter_um: float
    u_um: float
    gauge: str


@dataclass(frozen=True, slots=True)
class _Place:
    panel: str
    spot: str
    x_mm: float
    y_mm: float
    gauge: str
    true_um: NDArray[np.float64]


def gather_spots(survey: FilmSurvey, lines: Mapping[str, GaugeLine]) -> tuple[Spot, ...]:
    """The spots of ``survey`` in the order of panel and spot, whatever the order of the rows.

    Raises
    ------
    InputError
        If a reading names a panel that the survey does not hold, or is not a finite number.

    Notes
    -----
    Each reading is corrected by its gauge's line. In a spot of three readings or more one
    reading that misses the mean of the others by more than five times the car's usual scatter
    is discarded as odd, provided that the others agree with each other; a spot keeps the rest.
    u² = s²/n + u_line², s pooled over the car, known to 5 %, and growing in proportion above its
    middle film.

    References
    ----------
    SSPC-PA 2: a spot is the mean of at least three readings within a circle of 4 cm; an unusual
    reading that does not repeat may be discarded.
    """
    _check(survey)
    places = [_place(rows, lines) for rows in _grouped(survey.readings)]
    pooled = _pooled_scatter(places, lines)
    order = sorted(panel.panel for panel in survey.panels)
    off = {panel: beside(place) for place, panel in enumerate(order)}
    spots = []
    for place in places:
        scatter, middle = (
            steady(value, step=SCATTER_STEP, beside=off[place.panel]) for value in pooled
        )
        spots.append(_spot(place, lines, scatter, middle))
    return tuple(spots)


def _check(survey: FilmSurvey) -> None:
    known = {panel.panel for panel in survey.panels}
    for reading in survey.readings:
        if reading.panel not in known:
            raise InputError(
                field="panel",
                got=reading.panel,
                allowed="one of the panels of the survey",
                remedy="Add the panel's outline or correct its name.",
            )
        if not all(map(math.isfinite, (reading.x_mm, reading.y_mm, reading.thickness_um))):
            raise InputError(field="thickness_um", got=reading, allowed="finite, as its place")


def _grouped(readings: Sequence[Reading]) -> list[list[Reading]]:
    def key(reading: Reading) -> tuple[str, str]:
        return reading.panel, reading.spot

    def order(reading: Reading) -> tuple[object, ...]:
        return (*key(reading), reading.x_mm, reading.y_mm, reading.gauge, reading.thickness_um)

    return [list(rows) for _, rows in groupby(sorted(readings, key=order), key=key)]


def _place(rows: Sequence[Reading], lines: Mapping[str, GaugeLine]) -> _Place:
    true_um = np.array([lines[row.gauge].true_um(row.thickness_um) for row in rows])
    return _Place(
        panel=rows[0].panel,
        spot=rows[0].spot,
        x_mm=fmean(row.x_mm for row in rows),
        y_mm=fmean(row.y_mm for row in rows),
        gauge=max(sorted({row.gauge for row in rows}), key=[r.gauge for r in rows].count),
        true_um=true_um,
    )


def _pooled_scatter(
    places: Sequence[_Place], lines: Mapping[str, GaugeLine]
) -> tuple[float, float]:
    """Scatter of one reading [µm] and the middle thickness at which it holds."""
    middle = max(float(np.median([place.true_um.mean() for place in places] or [1.0])), 1.0)
    stated = max(line.repeatability_um.value for line in lines.values()) if lines else 2.0
    repeats = [place.true_um for place in places if place.true_um.size > 1]
    if len(repeats) < READINGS_TO_JUDGE:
        return stated, middle
    # The median of the spots' own variances: an odd reading spoils its spot, not the car. The
    # median of chi-square/dof lies below 1; (1 − 2/9ν)³ brings it back (Wilson–Hilferty).
    dof = np.array([row.size - 1 for row in repeats])
    variance = np.array([row.var(ddof=1) for row in repeats])
    scatter = math.sqrt(float(np.median(variance / (1 - 2 / (9 * dof)) ** 3)))
    return max(scatter, 0.1), middle


def keep_readings(true_um: NDArray[np.float64], *, scatter_um: float) -> NDArray[np.float64]:
    """``true_um`` [µm] without the one odd reading that a spot of three or more may hold."""
    if true_um.size < READINGS_TO_JUDGE:
        return true_um
    allowed = ODD_SCATTERS * scatter_um * math.sqrt(1 + 1 / (true_um.size - 1))
    if float(np.ptp(true_um)) <= allowed:
        return true_um
    odd = int(np.argmax(np.abs(true_um - np.median(true_um))))
    rest = np.delete(true_um, odd)
    agree = float(np.ptp(rest)) <= allowed
    return rest if agree and abs(true_um[odd] - rest.mean()) > allowed else true_um


def _spot(
    place: _Place, lines: Mapping[str, GaugeLine], scatter_um: float, middle_um: float
) -> Spot:
    here = scatter_um * max(1.0, median(place.true_um.tolist()) / middle_um)
    kept = keep_readings(place.true_um, scatter_um=here)
    thickness = float(kept.mean())
    of_mean = here / math.sqrt(kept.size)
    line_u = lines[place.gauge].line_u_um(thickness)
    return Spot(
        panel=place.panel,
        spot=place.spot,
        x_mm=place.x_mm,
        y_mm=place.y_mm,
        readings_n=int(place.true_um.size),
        thickness_um=thickness,
        scatter_um=of_mean,
        u_um=math.hypot(of_mean, line_u),
        gauge=place.gauge,
    )
