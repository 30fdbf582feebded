"""Numbers and estimates as results print them."""

from __future__ import annotations

from asfound.base import Estimate

DIGITS = 6
"""Digits after the point: beyond any instrument, and the same on every machine."""


def number(value: float) -> float:
    """Value as it is printed."""
    return round(float(value), DIGITS)


def estimate(found: Estimate) -> dict[str, float]:
    """Value, standard uncertainty and the half-width that holds it in 95 % of cases."""
    return {
        "value": number(found.value),
        "u": number(found.u),
        "u95": number(found.expanded(coverage=0.95)),
    }
