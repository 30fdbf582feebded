"""Sheet thickness as read on the invented car."""

from __future__ import annotations

from numpy.random import Generator

from asfound.demo.written import Rows, written

_GAUGE_U_MM = 0.012


def metal_rows(rng: Generator) -> Rows:
    """Rows of ``metal.csv``: sheet thickness by ultrasound."""
    table = []
    for row in written("metal"):
        read = float(row.pop("true_mm")) + rng.normal(0, _GAUGE_U_MM)
        table.append({**row, "thickness_mm": f"{read:.2f}", "gauge": "ultrasonic gauge"})
    return table
