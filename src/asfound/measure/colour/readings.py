"""Colour readings under a stated light and observer, and their means."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from asfound.base import Estimate, InputError, NotEnoughEvidenceError

NOT_STATED = "not stated"
"""Stands for a light or observer that nobody wrote down: compared only with its own kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewing:
    """The light and observer for which an instrument computed its numbers.

    Parameters
    ----------
    illuminant : str
        Such as "D65", "D50", "A"; not empty.
    observer : str
        Such as "2" or "10" degrees; not empty.
    """

    illuminant: str
    observer: str

    def __post_init__(self) -> None:
        for name in ("illuminant", "observer"):
            if not getattr(self, name).strip():
                raise InputError(
                    field=name,
                    got=getattr(self, name),
                    allowed="stated",
                    remedy="Read it from the instrument's settings; D65 and 10 are common there.",
                )

    @property
    def is_stated(self) -> bool:
        """Whether both light and observer were written down."""
        return NOT_STATED not in (self.illuminant, self.observer)


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourReading:
    """One CIELAB reading.

    Parameters
    ----------
    subject : str
        The panel or part.
    x_mm, y_mm : float
        Where, in the panel's own millimetres.
    l_star : float
        Lightness, 0 to 100 (a bright effect paint may exceed 100; up to 200 is taken).
    a_star, b_star : float
        Green to red and blue to yellow.
    exposure : {"exposed", "hidden"}
        Whether the place saw daylight or lay under a trim, seal or lining.
    viewing : Viewing
        Light and observer.
    """

    subject: str
    x_mm: float
    y_mm: float
    l_star: float
    a_star: float
    b_star: float
    exposure: Literal["exposed", "hidden"]
    viewing: Viewing

    def __post_init__(self) -> None:
        for name in ("x_mm", "y_mm", "a_star", "b_star"):
            if not math.isfinite(getattr(self, name)):
                raise InputError(field=name, got=getattr(self, name), allowed="a finite number")
        if not 0 <= self.l_star <= 200:
            raise InputError(field="l_star", got=self.l_star, allowed="between 0 and 200")
        if self.exposure not in {"exposed", "hidden"}:
            raise InputError(field="exposure", got=self.exposure, allowed="exposed or hidden")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourMean:
    """The mean of some readings in CIELAB, each coordinate with its doubt."""

    l_star: Estimate
    a_star: Estimate
    b_star: Estimate
    readings_n: int
    viewing: Viewing

    @property
    def lab(self) -> tuple[float, float, float]:
        """The three values without their doubt."""
        return self.l_star.value, self.a_star.value, self.b_star.value


def one_viewing(viewings: Iterable[Viewing]) -> Viewing:
    """The one light and observer that all share.

    Raises
    ------
    InputError
        If there are several: numbers for different lights are never compared.
    """
    met = set(viewings)
    if len(met) != 1:
        raise InputError(
            field="viewing",
            got=sorted(f"{v.illuminant}/{v.observer}" for v in met),
            allowed="the same light and observer for all readings",
            remedy="Set the instrument to one pair, or export its spectra and recompute them.",
        )
    return met.pop()


def mean_colour(readings: Sequence[ColourReading], *, instrument_u: float) -> ColourMean:
    """The mean colour of readings taken together.

    Parameters
    ----------
    readings : sequence of ColourReading, length n ≥ 1
        All under one light and observer.
    instrument_u : float
        Standard uncertainty of one reading in each coordinate, CIELAB units, more than zero; it
        serves where a single reading shows no scatter, and is the least scatter believed.

    Raises
    ------
    NotEnoughEvidenceError
        Without readings.
    InputError
        If lights or observers differ, or ``instrument_u`` is not positive.

    Notes
    -----
    u = max(s, instrument_u)/√n with n − 1 degrees of freedom where s governs (JCGM 100:2008,
    4.2.3); otherwise the instrument's u is taken as known.
    """
    if not readings:
        raise NotEnoughEvidenceError("No colour reading; take at least one.")
    if not (math.isfinite(instrument_u) and instrument_u > 0):
        raise InputError(field="instrument_u", got=instrument_u, allowed="more than zero")
    viewing = one_viewing(r.viewing for r in readings)
    rows = np.array([(r.l_star, r.a_star, r.b_star) for r in readings])
    parts = [_estimate(column, instrument_u=instrument_u) for column in rows.T]
    return ColourMean(
        l_star=parts[0],
        a_star=parts[1],
        b_star=parts[2],
        readings_n=len(readings),
        viewing=viewing,
    )


def _estimate(column: np.ndarray, *, instrument_u: float) -> Estimate:
    n = column.size
    scatter = float(column.std(ddof=1)) if n > 1 else 0.0
    if scatter > instrument_u:
        return Estimate(value=float(column.mean()), u=scatter / math.sqrt(n), dof=n - 1)
    return Estimate(value=float(column.mean()), u=instrument_u / math.sqrt(n))
