"""What is assumed before the first car; wide guesses, without a source."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class BasePriors:
    """Starting guesses of the model on the natural-log scale; all are guesses, no source.

    Parameters
    ----------
    middle_um, middle_sd : float
        Level of all kinds in ``middle_year``, µm, and its spread: 200 µm with 0.8 covers 42 to
        960 µm at 95 %.
    middle_year : float
        The year the era trend turns about.
    decade_sd : float
        Spread of the trend a decade.
    kind_sd, car_sd : float
        Scales of the half-normal priors for the spread between kinds and between cars of a kind.
    """

    middle_um: float = 200.0
    middle_sd: float = 0.8
    middle_year: float = 1965.0
    decade_sd: float = 0.15
    kind_sd: float = 0.5
    car_sd: float = 0.35

    def __post_init__(self) -> None:
        for name in ("middle_um", "middle_sd", "middle_year", "decade_sd", "kind_sd", "car_sd"):
            got = getattr(self, name)
            if not (math.isfinite(got) and got > 0):
                raise InputError(field=name, got=got, allowed="more than zero")
