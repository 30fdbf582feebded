"""What the pages read: each read is bounded by one car, or counts in one query."""

from asfound.record.reads.cars import car_for, cars_for
from asfound.record.reads.film_bands import (
    band_sources,
    bands_beside,
    film_bands,
    film_bands_gone,
)
from asfound.record.reads.film_base import (
    build_given,
    builds_beside,
    builds_gone,
    film_builds,
)
from asfound.record.reads.observed import panels_observed
from asfound.record.reads.of_car import (
    brief_of,
    readings_of_panel,
)

__all__ = [
    "band_sources",
    "bands_beside",
    "brief_of",
    "build_given",
    "builds_beside",
    "builds_gone",
    "car_for",
    "cars_for",
    "film_bands",
    "film_bands_gone",
    "film_builds",
    "panels_observed",
    "readings_of_panel",
]
