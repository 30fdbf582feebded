"""Open holds over the cars of the workshop."""

from __future__ import annotations

from collections.abc import Iterable

from asfound.record.actions.small_sheet import sheet_rows
from asfound.record.convert.holds import HOLDS, Hold, hold_of
from asfound.record.models import Car, Observation

MOST = 200
"""Holds that are read, the newest first."""


def held_now(cars: Iterable[Car]) -> list[tuple[Car, str, Hold]]:
    """What is held on those cars, with the task in words; what waits longest first."""
    rows = Observation.objects.current().filter(table=HOLDS, car__in=list(cars))
    newest = rows.select_related("car").order_by("-pk")[:MOST]
    held = [(row.car, hold) for row in reversed(newest) if (hold := hold_of(row.cells)).is_open]
    names = _task_names({car for car, hold in held if hold.task})
    return [(car, names.get((car.pk, hold.task), hold.task), hold) for car, hold in held]


def _task_names(cars: set[Car]) -> dict[tuple[int, str], str]:
    """What is done in each task of those cars, where somebody said it."""
    return {
        (car.pk, row["task"]): row["name"]
        for car in cars
        for row in sheet_rows(car, "tasks")
        if row.get("name")
    }
