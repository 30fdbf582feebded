"""Numbers that a choice may be asked with."""

from __future__ import annotations

import math

from asfound.base import InputError


def at_least_zero(name: str, value: float) -> None:
    """Refuse what is not finite, or below zero.

    Raises
    ------
    InputError
        Naming the number.
    """
    if not (math.isfinite(value) and value >= 0):
        raise InputError(field=name, got=value, allowed="a finite number, zero or more")
