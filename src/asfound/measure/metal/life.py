"""How long a sheet still lasts, by the faster of its long and short rate of loss."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from asfound.base import InputError, NotEnoughEvidenceError


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessOnDate:
    """A thickness in mm, more than zero, at a time in years on any one scale."""

    year: float
    thickness_mm: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.year):
            raise InputError(field="year", got=self.year, allowed="a finite number")
        if not (math.isfinite(self.thickness_mm) and self.thickness_mm > 0):
            raise InputError(field="thickness_mm", got=self.thickness_mm, allowed="more than zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class RemainingLife:
    """Years left to the least thickness; infinite where no loss was seen."""

    long_rate_mm_a: float
    short_rate_mm_a: float
    governing: Literal["long", "short"]
    years: float
    below_least: bool


def _rate(*, first: ThicknessOnDate, last: ThicknessOnDate) -> float:
    return (first.thickness_mm - last.thickness_mm) / (last.year - first.year)


def remaining_life(
    history: Sequence[ThicknessOnDate], *, least_thickness_mm: float
) -> RemainingLife:
    """Years until the sheet reaches its least thickness, the greater rate governing.

    Parameters
    ----------
    history : sequence of ThicknessOnDate, length n ≥ 2
        In order of time, no two at the same time; the first may be the nominal when built.
    least_thickness_mm : float
        The thickness that must stay, not negative; a decision, not a measurement.

    Raises
    ------
    NotEnoughEvidenceError
        With fewer than two thicknesses.
    InputError
        If the years do not rise or the least thickness is negative.

    Notes
    -----
    long rate = (t_first − t_last)/years between them; short rate = (t_previous − t_last)/years
    between them; life = (t_last − t_least)/greater rate. The form used for pressure vessels,
    carried over to body sheet: it assumes that the loss goes on as it went. A rate that is not
    positive gives no end and an infinite life; a sheet already below its least has 0 years.

    References
    ----------
    API 570, remaining life, long-term and short-term corrosion rates (secondary source).

    Examples
    --------
    >>> seen = (ThicknessOnDate(year=0, thickness_mm=10), ThicknessOnDate(year=10, thickness_mm=5))
    >>> remaining_life(seen, least_thickness_mm=0).years
    10.0
    """
    if len(history) < 2:
        raise NotEnoughEvidenceError("A rate of loss needs thicknesses at two times or more.")
    if any(later.year <= earlier.year for earlier, later in pairwise(history)):
        raise InputError(field="year", got=[h.year for h in history], allowed="rising")
    if not (math.isfinite(least_thickness_mm) and least_thickness_mm >= 0):
        raise InputError(field="least_thickness_mm", got=least_thickness_mm, allowed="zero or more")
    long_rate = _rate(first=history[0], last=history[-1])
    short_rate = _rate(first=history[-2], last=history[-1])
    over_mm = history[-1].thickness_mm - least_thickness_mm
    rate = max(long_rate, short_rate)
    years = 0.0 if over_mm <= 0 else over_mm / rate if rate > 0 else math.inf
    return RemainingLife(
        long_rate_mm_a=long_rate,
        short_rate_mm_a=short_rate,
        governing="short" if short_rate > long_rate else "long",
        years=years,
        below_least=over_mm < 0,
    )
