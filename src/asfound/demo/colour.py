"""Colour as read on the invented car: exposed and hidden places, each three times."""

from __future__ import annotations

from numpy.random import Generator

from asfound.demo.written import Rows, written

_METER = "colour meter"
_METER_U = 0.12
_TIMES = 3


def colour_rows(rng: Generator) -> Rows:
    """Rows of ``colour.csv``: CIELAB under D65 for the observer of 10 degrees."""
    return [_reading(row, rng) for row in written("colour") for _ in range(_TIMES)]


def _reading(row: dict[str, str], rng: Generator) -> dict[str, str]:
    read = {axis: f"{float(row[axis]) + rng.normal(0, _METER_U):.2f}" for axis in "Lab"}
    return {
        **{name: row[name] for name in ("panel", "part", "x_mm", "y_mm")},
        **read,
        "exposure": row["exposure"],
        "illuminant": "D65",
        "observer": "10",
        "instrument": _METER,
        "taken_at": "2024-03-06",
        "by": "Issy Corrand",
    }
