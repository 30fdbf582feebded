"""Finished work over all cars of the workshop."""

from __future__ import annotations

from asfound.plan.past import Past
from asfound.record.convert.past import past_of
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Observation

MOST_CARS = 200
"""Cars with finished work that are read, the newest of the record first."""


def shop_past() -> Past:
    """What the finished tasks of the workshop's cars say; two tables of each are read."""
    done = Observation.objects.current().filter(table="worked", cells__done="yes")
    cars = Car.objects.filter(pk__in=done.values("car")).order_by("-pk")[:MOST_CARS]
    return past_of(folder_of(car) for car in cars)
