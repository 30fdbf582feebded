"""Sheet thickness and colour, as read on the invented car."""

from __future__ import annotations

from numpy.random import Generator

from asfound.demo.written import Rows, written

_GAUGE_U_MM, _METER_U = 0.012, 0.12


def metal_rows(rng: Generator) -> Rows:
    """Rows of ``metal.csv``: sheet thickness by ultrasound."""
    table = []
    for row in written("metal"):
        read = float(row.pop("true_mm")) + rng.normal(0, _GAUGE_U_MM)
        table.append({**row, "thickness_mm": f"{read:.2f}", "gauge": "ultrasonic gauge"})
    return table


def colour_rows(rng: Generator) -> Rows:
    """Rows of ``colour.csv``: CIELAB, exposed and hidden places."""
    table = []
    for row in written("colour"):
        read = {axis: f"{float(row[axis]) + rng.normal(0, _METER_U):.2f}" for axis in "Lab"}
        place = {name: row[name] for name in ("panel", "part", "x_mm", "y_mm")}
        table.append(
            {
                **place,
                **read,
                "exposure": row["exposure"],
                "illuminant": "D65",
                "observer": "10°",
                "instrument": "colour meter",
            }
        )
    return table
