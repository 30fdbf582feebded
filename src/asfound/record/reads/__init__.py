"""What the pages read: each read is bounded by one car, or counts in one query."""

from asfound.record.reads.cars import car_for, cars_for
from asfound.record.reads.observed import panels_observed
from asfound.record.reads.of_car import (
    brief_of,
    decisions_of,
    gauges_of,
    readings_of_panel,
)

__all__ = [
    "brief_of",
    "car_for",
    "cars_for",
    "decisions_of",
    "gauges_of",
    "panels_observed",
    "readings_of_panel",
]
