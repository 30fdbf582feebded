"""Spots of the invented bonnet read again after polishing, and how thin it may become."""

from __future__ import annotations

from statistics import fmean

from numpy.random import Generator

from asfound.demo.written import Rows

_PANEL = "bonnet"
_EDGE_X_MM = 200.0
_SOFT, _HAND = "rotary, foam pad, fine compound", "by hand, cloth and cream"
_TAKEN_UM = {_SOFT: 2.3, _HAND: 0.9}
"""What one pass takes; invented."""
_PASSES = {_SOFT: 3, _HAND: 4}
_SPOTS_SCATTER, _GAUGE_SCATTER_UM = 0.15, 0.8
_OPEN_SPOTS_N = 6


def polish_rows(film: Rows, rng: Generator) -> Rows:
    """Rows of ``polish.csv``: the front edge by hand, the open bonnet by machine."""
    shown: dict[str, list[dict[str, str]]] = {}
    for row in film:
        if row["panel"] == _PANEL:
            shown.setdefault(row["spot"], []).append(row)
    edge = [rows for rows in shown.values() if float(rows[0]["x_mm"]) < _EDGE_X_MM]
    rest = [rows for rows in shown.values() if float(rows[0]["x_mm"]) >= _EDGE_X_MM]
    table = [_polished(rows, "front edge", _HAND, rng) for rows in edge]
    return table + [_polished(rows, "", _SOFT, rng) for rows in rest[:_OPEN_SPOTS_N]]


def _polished(rows: Rows, area: str, process: str, rng: Generator) -> dict[str, str]:
    before = fmean(float(row["thickness_um"]) for row in rows)
    a_pass = _TAKEN_UM[process] * rng.normal(1, _SPOTS_SCATTER)
    after = before - _PASSES[process] * a_pass + rng.normal(0, _GAUGE_SCATTER_UM)
    return {
        "panel": _PANEL,
        "area": area,
        "spot": rows[0]["spot"],
        "before_um": f"{before:.1f}",
        "after_um": f"{after:.1f}",
        "passes": str(_PASSES[process]),
        "process": process,
        "gauge": rows[0]["gauge"],
        "taken_at": "2024-03-12",
        "by": "Bram Ostler",
    }
