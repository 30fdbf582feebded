"""Readings at one place of a sheet over the years, and how long the place still lasts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from asfound.measure.metal.life import RemainingLife, ThicknessOnDate, remaining_life
from asfound.measure.metal.survey import MetalReading
from asfound.measure.statistics import mean

PLACE_MM = 40.0
"""Readings no further from the first one of a place belong to it, as on a film (SSPC-PA 2 takes
a circle of 4 cm for a spot; carried over to metal, a choice of ours)."""
APART_YEARS = 1.0
"""Readings less far apart are one occasion: over days a rate would be all error."""
_COVERAGE_95 = 1.96


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """The readings of one place on one occasion: their mean and its doubt.

    ``year`` is None for readings whose time nobody wrote down.
    """

    year: float | None
    thickness_mm: float
    u_mm: float
    readings_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One place of a sheet, its occasions in the order of time, undated ones first."""

    x_mm: float
    y_mm: float
    occasions: tuple[Occasion, ...]

    @property
    def last(self) -> Occasion:
        """The occasion that tells what is left now."""
        return self.occasions[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLife:
    """Remaining life of one place.

    ``years_low`` is the life with the method's error (95 %) against it: the place thinner and
    faster by it. ``from_nominal`` says that the first thickness is the nominal when built,
    ``rate_told`` that the difference behind the governing rate exceeds that error.
    """

    place: Place
    life: RemainingLife
    years_low: float
    from_nominal: bool
    rate_told: bool


def places_of(readings: Sequence[MetalReading]) -> tuple[Place, ...]:
    """Places of a sheet in the order met, each with its occasions.

    Parameters
    ----------
    readings : sequence of MetalReading
        Of one panel or part.

    Notes
    -----
    A reading belongs to the first place whose first reading lies within ``PLACE_MM``. Dated
    readings of a place are one occasion while they lie within ``APART_YEARS`` of its first.
    """
    met: list[list[MetalReading]] = []
    for reading in readings:
        here = next((p for p in met if _distance_mm(p[0], reading) <= PLACE_MM), None)
        if here is None:
            met.append([reading])
        else:
            here.append(reading)
    return tuple(
        Place(x_mm=at[0].x_mm, y_mm=at[0].y_mm, occasions=tuple(_occasions(at))) for at in met
    )


def _distance_mm(one: MetalReading, other: MetalReading) -> float:
    return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)


def _occasions(readings: Sequence[MetalReading]) -> list[Occasion]:
    dated = sorted((r for r in readings if r.year is not None), key=lambda r: r.year or 0.0)
    groups: list[list[MetalReading]] = []
    for reading in dated:
        if groups and (reading.year or 0.0) - (groups[-1][0].year or 0.0) < APART_YEARS:
            groups[-1].append(reading)
        else:
            groups.append([reading])
    undated = [r for r in readings if r.year is None]
    return [_occasion(group) for group in ([undated] if undated else []) + groups]


def _occasion(readings: Sequence[MetalReading]) -> Occasion:
    years = [r.year for r in readings if r.year is not None]
    return Occasion(
        year=mean(years) if years else None,
        thickness_mm=mean([r.thickness_mm for r in readings]),
        u_mm=max(r.u_mm for r in readings),
        readings_n=len(readings),
    )


def place_life(
    place: Place, *, least_mm: float, when_built: ThicknessOnDate | None, u_built_mm: float
) -> PlaceLife | None:
    """Remaining life of a place; None where its thickness is known at fewer than two times.

    Parameters
    ----------
    place : Place
    least_mm : float
        The thickness that must stay, not negative.
    when_built : ThicknessOnDate or None
        The nominal thickness when the car was built, in the years of the readings.
    u_built_mm : float
        Standard uncertainty of that nominal, not negative.

    Notes
    -----
    The sheet is taken to be the one the car was built with. See ``remaining_life`` for the rates.
    ``years_low`` = (t_last − U_last − t_least)/((t_first − t_last + U)/Δt) over the governing
    interval, with U = 1.96·√(u_first² + u_last²) and U_last = 1.96·u_last.
    """
    dated = [occasion for occasion in place.occasions if occasion.year is not None]
    seen = [(_on_date(occasion), occasion.u_mm) for occasion in dated]
    from_nominal = bool(when_built and seen and when_built.year < seen[0][0].year)
    if when_built is not None and from_nominal:
        seen = [(when_built, u_built_mm), *seen]
    if len(seen) < 2:
        return None
    life = remaining_life([thickness for thickness, _ in seen], least_thickness_mm=least_mm)
    (first, u_first), (last, u_last) = seen[0 if life.governing == "long" else -2], seen[-1]
    lost_mm = first.thickness_mm - last.thickness_mm
    error_mm = _COVERAGE_95 * math.hypot(u_first, u_last)
    over_mm = last.thickness_mm - _COVERAGE_95 * u_last - least_mm
    rate_mm_a = (lost_mm + error_mm) / (last.year - first.year)
    return PlaceLife(
        place=place,
        life=life,
        years_low=_years(over_mm=over_mm, rate_mm_a=rate_mm_a),
        from_nominal=from_nominal,
        rate_told=abs(lost_mm) > error_mm,
    )


def _years(*, over_mm: float, rate_mm_a: float) -> float:
    """Years until nothing is over; none if nothing is, without end where nothing is lost."""
    if over_mm <= 0:
        return 0.0
    return over_mm / rate_mm_a if rate_mm_a > 0 else math.inf


def _on_date(occasion: Occasion) -> ThicknessOnDate:
    assert occasion.year is not None, "only dated occasions have a rate"
    return ThicknessOnDate(year=occasion.year, thickness_mm=occasion.thickness_mm)


def shortest(lives: Sequence[PlaceLife]) -> PlaceLife:
    """The life of the place that goes first, the thinner of two that go together."""
    return min(lives, key=lambda found: (found.life.years, found.place.last.thickness_mm))
