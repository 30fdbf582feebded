"""Steps of the grey scale for change in colour."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class GreyStep:
    """One step: its name, its CIELAB difference and the tolerance of that difference."""

    name: str
    delta_e76: float
    tolerance: float


# ISO 105-A02:1993, clause 2.4, CIELAB differences; the tolerance of step 5 is from memory.
GREY_STEPS: tuple[GreyStep, ...] = tuple(
    GreyStep(name=name, delta_e76=value, tolerance=tolerance)
    for name, value, tolerance in (
        ("5", 0.0, 0.2),
        ("4-5", 0.8, 0.2),
        ("4", 1.7, 0.3),
        ("3-4", 2.5, 0.35),
        ("3", 3.4, 0.4),
        ("2-3", 4.8, 0.5),
        ("2", 6.8, 0.6),
        ("1-2", 9.6, 0.7),
        ("1", 13.6, 1.0),
    )
)


def grey_step(*, delta_e76: float) -> GreyStep:
    """The grey-scale step nearest to a CIELAB difference; 5 is no change, 1 the largest.

    Parameters
    ----------
    delta_e76 : float
        Plain CIELAB distance, zero or more. The scale is defined on this distance, so a CIEDE2000
        figure must not be put in.

    Raises
    ------
    InputError
        If the distance is negative or not finite.

    Notes
    -----
    Halfway between two steps the poorer one is taken. A pair of colours is not a pair of greys:
    the step is an aid to words, not a test after the standard, which is done by eye.

    References
    ----------
    ISO 105-A02:1993, clause 2.4.

    Examples
    --------
    >>> grey_step(delta_e76=1.7).name
    '4'
    """
    if not (math.isfinite(delta_e76) and delta_e76 >= 0):
        raise InputError(field="delta_e76", got=delta_e76, allowed="zero or more")
    return min(reversed(GREY_STEPS), key=lambda step: round(abs(step.delta_e76 - delta_e76), 9))
