"""Sheet thickness as read on the invented car: at take-in, and before that where it looked bad."""

from __future__ import annotations

from numpy.random import Generator

from asfound.demo.written import Rows, written

_GAUGE_U_MM = 0.012
_TAKE_IN = ("2024-03-05", "Wenna Tolk")


def metal_rows(rng: Generator) -> Rows:
    """Rows of ``metal.csv``: sheet thickness by ultrasound."""
    table = []
    for row in written("metal"):
        read = float(row.pop("true_mm")) + rng.normal(0, _GAUGE_U_MM)
        day, by = row.pop("taken_at") or _TAKE_IN[0], row.pop("by") or _TAKE_IN[1]
        table.append(
            {
                **row,
                "thickness_mm": f"{read:.2f}",
                "gauge": "ultrasonic gauge",
                "taken_at": day,
                "by": by,
            }
        )
    return table
