"""Wear of a part held against the age of the car."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from asfound.base import Estimate, InputError

MOST_LR = 20.0
"""The ratio is never let beyond this or its inverse: the tails of the model are not to be trusted
(a choice of ours, no source)."""
_REACH_U = 6.0
_STEPS_N = 4001


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRate:
    """Between which rates a part of that kind wears, per year or per 1000 km of use.

    Parameters
    ----------
    least, most : float
        In the unit of the wear; above zero, ``least`` below ``most``.
    """

    least: float
    most: float

    def __post_init__(self) -> None:
        if not 0 < self.least < self.most < math.inf:
            raise InputError(
                field="least_rate",
                got=self.least,
                allowed=f"above zero and below most_rate, {self.most}",
                remedy="Give a range: no part wears at one rate alone.",
            )


def wear_lr(*, wear: Estimate, exposure: float, rate: WearRate) -> float:
    """Likelihood ratio of a wear for "fitted when built" against "fitted later".

    Parameters
    ----------
    wear : Estimate
        Wear as measured, in the unit of the rate times that of the exposure; ``u`` above zero.
    exposure : float
        What the car went through since it was built: years, or 1000 km; above zero.
    rate : WearRate

    Raises
    ------
    InputError
        If the exposure or the uncertainty is not above zero.

    Notes
    -----
    The rate is one of the range, each as likely on a logarithmic scale. A part fitted when built
    had the whole exposure T; one fitted later had any part of it, each as likely. With
    L = ln(most/least) the densities of a true wear w are

        f₁(w) = 1/(wL) for least·T ≤ w ≤ most·T
        f₂(w) = max(0, min(T, w/least) − w/most) / (wLT)

    each spread by the normal error of the measurement. LR = f₁/f₂, held to 1/20 … 20. Much wear
    speaks for the part's age, little wear against it; a rebuilt part reads as a later one.

    Examples
    --------
    >>> rate = WearRate(least=0.01, most=0.03)
    >>> wears = Estimate(value=1.0, u=0.02), Estimate(value=0.1, u=0.02)
    >>> much, little = (wear_lr(wear=wear, exposure=60.0, rate=rate) for wear in wears)
    >>> much > 1 > little
    True
    """
    if not (math.isfinite(exposure) and exposure > 0):
        raise InputError(field="exposure", got=exposure, allowed="above zero and finite")
    if wear.u <= 0:
        raise InputError(
            field="u", got=wear.u, allowed="above zero", remedy="State what the reading is worth."
        )
    reach = _REACH_U * wear.u
    true = np.linspace(max(wear.value - reach, 1e-9 * reach), wear.value + reach, _STEPS_N)
    error = np.exp(-0.5 * ((true - wear.value) / wear.u) ** 2)
    first = float(np.sum(error * _when_built(true, exposure, rate)))
    later = float(np.sum(error * _later(true, exposure, rate)))
    if first <= 0 and later <= 0:
        return 1.0  # beyond both: the range of rates does not know this part
    ratio = math.inf if later <= 0 else first / later
    return min(max(ratio, 1 / MOST_LR), MOST_LR)


def _when_built(wear: NDArray[np.float64], t: float, rate: WearRate) -> NDArray[np.float64]:
    held = (rate.least * t <= wear) & (wear <= rate.most * t)
    return np.asarray(np.where(held, 1 / wear, 0.0))


def _later(wear: NDArray[np.float64], t: float, rate: WearRate) -> NDArray[np.float64]:
    open_to = np.minimum(t, wear / rate.least) - wear / rate.most
    return np.asarray(np.maximum(open_to, 0.0) / (wear * t))
