"""What every reading of sheet thickness must be."""

from __future__ import annotations

import math

from asfound.base import InputError


def check_reading(*, x_mm: float, y_mm: float, thickness_mm: float) -> None:
    """Refuse a place that is no place, and a thickness that is none.

    Raises
    ------
    InputError
        If a number is not finite, or the thickness not above zero.
    """
    for name, value in (("x_mm", x_mm), ("y_mm", y_mm)):
        if not math.isfinite(value):
            raise InputError(field=name, got=value, allowed="a finite number")
    if not (math.isfinite(thickness_mm) and thickness_mm > 0):
        raise InputError(
            field="thickness_mm",
            got=thickness_mm,
            allowed="more than zero",
            remedy="A hole is a finding, not a thickness.",
        )
