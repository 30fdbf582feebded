"""On which panels something was observed, in the mm of their outlines."""

from __future__ import annotations

from asfound.record.models import Car


def panels_observed(car: Car) -> frozenset[str]:
    """Names of panels that readings or findings of the car lie on."""
    found = set(car.film_readings.current().values_list("panel", flat=True))
    found |= set(car.observations.current().values_list("subject", flat=True))
    drawn = set(car.panels.values_list("panel", flat=True))
    return frozenset(found & drawn if drawn else found)
