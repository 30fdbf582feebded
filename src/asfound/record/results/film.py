"""The reading of a finish in the shape of the contract, and in words."""

from __future__ import annotations

import math
from typing import Any

import shapely

from asfound.measure.film import FilmReading, LaterWorkArea, PanelReading, SpotReading
from asfound.weigh import SCALE, weight_in_words

TWO_SIDED = (
    "A reading speaks for or against “undisturbed since built”, the other statement being “carries "
    f"later work”; its support is in the words of the {SCALE}. Thickness alone proves neither."
)
"""What stands beside the words of a reading wherever they are shown."""

_DIGITS = 6
"""Digits after the point that a result carries: beyond any gauge, below any rounding."""


def film_json(reading: FilmReading) -> dict[str, Any]:
    """Reading as ``asfound film --json`` prints it."""
    return {
        "level_um": {
            "value": _number(reading.level_um.value),
            "u": _number(reading.level_um.u),
        },
        "gauges": [
            {
                "gauge": gauge.gauge,
                "offset_um": _number(gauge.offset_um.value),
                "slope": _number(gauge.slope.value),
                "u_um": _number(gauge.u_um),
            }
            for gauge in reading.gauges
        ],
        "panels": [_panel(panel) for panel in reading.panels],
        "next_spots": [
            {
                "panel": spot.panel,
                "x_mm": _number(spot.x_mm),
                "y_mm": _number(spot.y_mm),
                "gain_bits": _number(spot.gain_bits),
            }
            for spot in reading.next_spots
        ],
    }


def panel_words(panel: PanelReading) -> str:
    """What the film of a panel says, as a degree of support and never as a proof.

    The two statements weighed are "carries later work" and "undisturbed since built", in the
    words of the scale that ``asfound.weigh.SCALE`` names. :data:`TWO_SIDED` goes with them.
    """
    if panel.spots_n == 0:
        return "not known: no readings"
    weight = weight_in_words(panel.lr_later_work)
    if weight.favours == "neither":
        return "not known: neutral, neither for nor against undisturbed since built"
    if weight.favours == "alternative":
        return f"{weight.degree} support for undisturbed since built"
    return f"{weight.degree} support for later work{_likely_kinds(panel)}"


def _likely_kinds(panel: PanelReading) -> str:
    likely = sorted(panel.kinds.items(), key=lambda item: (-item[1], item[0]))
    named = [kind for kind, p in likely if p >= 0.5] or [kind for kind, _ in likely[:1]]
    return f": {' and '.join(named)}" if named else ""


def _panel(panel: PanelReading) -> dict[str, Any]:
    return {
        "panel": panel.panel,
        "spots_n": panel.spots_n,
        "median_um": _number_or_none(panel.median_um),
        "spread_um": _number_or_none(panel.spread_um),
        "p_later_work": _number(panel.p_later_work),
        "lr_later_work": float(f"{panel.lr_later_work:.6g}"),
        "reading": panel_words(panel),
        "spots": [_spot(spot) for spot in panel.spots],
        "areas": [_area(area) for area in panel.areas],
    }


def _spot(spot: SpotReading) -> dict[str, Any]:
    return {
        "spot": spot.spot,
        "x_mm": _number(spot.x_mm),
        "y_mm": _number(spot.y_mm),
        "thickness_um": _number(spot.thickness_um),
        "u_um": _number(spot.u_um),
        "p_later_work": _number(spot.p_later_work),
        "kinds": {kind: _number(p) for kind, p in spot.kinds.items()},
    }


def _area(area: LaterWorkArea) -> dict[str, Any]:
    return {
        "kind": area.kind,
        "probability": _number(area.probability),
        "area_mm2": round(area.area_mm2, 1),
        "outline_wkt": shapely.to_wkt(area.outline, rounding_precision=1),
    }


def _number(value: float) -> float:
    return round(float(value), _DIGITS)


def _number_or_none(value: float) -> float | None:
    """A panel without readings has no median."""
    return None if math.isnan(value) else _number(value)
