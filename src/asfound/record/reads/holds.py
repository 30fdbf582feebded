"""Open holds over the cars of the workshop."""

from __future__ import annotations

from collections.abc import Iterable

from asfound.record.convert.holds import HOLDS, Hold, hold_of
from asfound.record.models import Car, Observation

MOST = 200
"""Holds that are read, the newest first."""


def held_now(cars: Iterable[Car]) -> list[tuple[Car, Hold]]:
    """What is held on those cars, what waits longest first."""
    rows = Observation.objects.current().filter(table=HOLDS, car__in=list(cars))
    newest = rows.select_related("car").order_by("-pk")[:MOST]
    return [(row.car, hold) for row in reversed(newest) if (hold := hold_of(row.cells)).is_open]
