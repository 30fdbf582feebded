"""Finished work over all cars of the workshop."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.plan.past import Past, fit_past
from asfound.record.convert.past import FinishedJob, finished_jobs
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Observation

MOST_CARS = 200
"""Cars with finished work that are read, the newest of the record first."""


def finished_work() -> Iterator[tuple[Car, FinishedJob]]:
    """Finished tasks of the workshop's cars; two tables of each are read."""
    done = Observation.objects.current().filter(table="worked", cells__done="yes")
    for car in Car.objects.filter(pk__in=done.values("car")).order_by("-pk")[:MOST_CARS]:
        for one in finished_jobs(folder_of(car)):
            yield car, one


def shop_past() -> Past:
    """What the finished tasks of the workshop's cars say."""
    return fit_past([one.job for _, one in finished_work() if one.teaches])
