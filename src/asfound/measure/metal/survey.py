"""What is known of the sheet metal of a car before anything is computed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError
from asfound.measure.metal.climate import ClimatePeriod
from asfound.measure.metal.reading import check_reading
from asfound.measure.metal.sheet_gauges import Nominal

SubjectKind = Literal["panel", "part"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalReading:
    """One reading of sheet thickness with its instrument's doubt and its time.

    Parameters
    ----------
    x_mm, y_mm : float
        Where, in the subject's own millimetres.
    thickness_mm : float
        More than zero.
    u_mm : float
        Standard uncertainty of the instrument, shared by its readings, not negative.
    gauge : str
        Name of the instrument; empty for one without a name.
    year : float or None
        When it was taken, in years of the calendar; None where nobody wrote it down.
    """

    x_mm: float
    y_mm: float
    thickness_mm: float
    u_mm: float
    gauge: str = ""
    year: float | None = None

    def __post_init__(self) -> None:
        check_reading(x_mm=self.x_mm, y_mm=self.y_mm, thickness_mm=self.thickness_mm)
        if not (math.isfinite(self.u_mm) and self.u_mm >= 0):
            raise InputError(field="u_mm", got=self.u_mm, allowed="zero or more")
        if self.year is not None and not math.isfinite(self.year):
            raise InputError(field="year", got=self.year, allowed="a finite number")


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalSubject:
    """One panel or part with its readings and what they are held against.

    Parameters
    ----------
    subject : str
    kind : {"panel", "part"}
    readings : tuple of MetalReading, length n ≥ 1
    nominal : Nominal or None
        The sheet when new; None where nobody knows it.
    tolerance_mm : float
        Half-width within which the sheet may have left the mill, not negative.
    least_mm : float or None
        The thickness that must stay; None where nobody decided it.
    """

    subject: str
    kind: SubjectKind
    readings: tuple[MetalReading, ...]
    nominal: Nominal | None = None
    tolerance_mm: float = 0.0
    least_mm: float | None = None

    def __post_init__(self) -> None:
        if not (math.isfinite(self.tolerance_mm) and self.tolerance_mm >= 0):
            raise InputError(field="tolerance_mm", got=self.tolerance_mm, allowed="zero or more")
        if self.least_mm is not None and not (math.isfinite(self.least_mm) and self.least_mm >= 0):
            raise InputError(field="least_mm", got=self.least_mm, allowed="zero or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalSurvey:
    """All readings of sheet metal of one car.

    Parameters
    ----------
    subjects : tuple of MetalSubject
    built_year : float or None
        When the car was built, in years of the calendar.
    climates : tuple of ClimatePeriod
        Where the car stood, in the order of time.
    """

    subjects: tuple[MetalSubject, ...]
    built_year: float | None = None
    climates: tuple[ClimatePeriod, ...] = ()
