"""Dated readings of an odometer: what they contradict, and the distances that fit them."""

from asfound.weigh.odometer.clash import Clash, clashes_of, to_doubt
from asfound.weigh.odometer.explain import (
    MOST_CHANGES,
    Change,
    ChangeKind,
    Story,
    Stretch,
    stories_of,
)
from asfound.weigh.odometer.rates import SOURCE, YearlyRate, published_km, rates_of
from asfound.weigh.odometer.read import OdometerResult, Span, read_odometer
from asfound.weigh.odometer.reading import KM_IN, OdometerReading, Unit, in_order

__all__ = [
    "KM_IN",
    "MOST_CHANGES",
    "SOURCE",
    "Change",
    "ChangeKind",
    "Clash",
    "OdometerReading",
    "OdometerResult",
    "Span",
    "Story",
    "Stretch",
    "Unit",
    "YearlyRate",
    "clashes_of",
    "in_order",
    "published_km",
    "rates_of",
    "read_odometer",
    "stories_of",
    "to_doubt",
]
