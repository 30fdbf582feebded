"""Thresholds of colour difference as data; they disagree, and none is a rule of ours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourThreshold:
    """One row: a difference, in which measure, what it is said to mean, and who says so.

    Copy the tuple, change rows and pass your own: the program judges by none of them.
    ``status`` is how the source is known, such as "looked up", "secondary source" or "from memory".
    """

    measure: Literal["ΔE00", "ΔE76", "not stated"]
    over: float
    up_to: float
    meaning: str
    field: str
    source: str
    status: str


_TRADE = "a manufacturing trade article, no standard"


def _trade(over: float, up_to: float, meaning: str) -> ColourThreshold:
    return ColourThreshold(
        measure="not stated",
        over=over,
        up_to=up_to,
        meaning=meaning,
        field="new vehicles",
        source=_TRADE,
        status="secondary source",
    )


THRESHOLDS: tuple[ColourThreshold, ...] = (
    _trade(0.0, 0.5, "not perceptible"),
    _trade(0.5, 1.0, "barely perceptible"),
    _trade(1.0, 2.0, "slight"),
    _trade(2.0, 3.5, "noticeable"),
    ColourThreshold(
        measure="ΔE00",
        over=0.0,
        up_to=5.0,
        meaning="range in which the measure is meant to be used",
        field="paints and plastics, vehicles among them",
        source="ASTM D2244, section 5.2, as quoted in a public text",
        status="secondary source",
    ),
    ColourThreshold(
        measure="ΔE00",
        over=0.0,
        up_to=1.8,
        meaning="acceptable",
        field="dental materials",
        source="dental review of 2023, abstract",
        status="secondary source",
    ),
    ColourThreshold(
        measure="ΔE76",
        over=0.0,
        up_to=1.0,
        meaning="not perceptible",
        field="dental materials",
        source="Journal of Dentistry 42(6), 2014, 637-644, most cited figures",
        status="looked up",
    ),
    ColourThreshold(
        measure="ΔE76",
        over=0.0,
        up_to=1.6,
        meaning="up to a just noticeable fade",
        field="museum objects in light",
        source="a museum page on light damage (grey scale 4; the grey scale itself says 1.7)",
        status="looked up",
    ),
)
