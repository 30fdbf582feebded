"""What the verdicts of the numbers check weigh, as the workshop says or as supplied."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from asfound.record.folder import CarFolder

Weights = Mapping[tuple[str, str], float]

SUPPLIED: Weights = MappingProxyType(
    {
        ("same", "maker's record"): 50.0,
        ("same", "factory build record"): 50.0,
        ("same", "other mark on the car"): 10.0,
        ("same", "other paper"): 10.0,
        ("consistent", "maker's record"): 10.0,
        ("consistent", "factory build record"): 10.0,
        ("consistent", "other mark on the car"): 3.0,
        ("consistent", "other paper"): 3.0,
        ("consistent", "dates only"): 3.0,
        ("conflict", "maker's record"): 0.05,
        ("conflict", "factory build record"): 0.05,
        ("conflict", "other mark on the car"): 0.2,
        ("conflict", "other paper"): 0.2,
        ("conflict", "dates only"): 0.02,
    }
)
"""Ratios for "fitted when built": guesses, no source. A number can be stamped anew and a sheet
can be written wrong, so none is large; a workshop that knows its marque writes its own."""


def number_weights_of(car: CarFolder) -> Weights:
    """Weights of the workshop's table over those supplied."""
    own = {
        (row.text("verdict"), row.text("against")): row.number("lr")
        for row in car.sheet("number_weights")
    }
    return {**SUPPLIED, **own}
