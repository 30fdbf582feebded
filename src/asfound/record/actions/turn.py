"""One writer a car at a time: what an action reads still holds when it writes."""

from __future__ import annotations

from collections.abc import Iterable

from asfound.record.models import Car


def take_turn(car: Car) -> None:
    """Wait until no other action writes to the car, and read anew what may have changed.

    The caller opens the transaction, which holds the turn until its end.

    Notes
    -----
    PostgreSQL locks the car's row. SQLite has one writer, whose transactions begin immediately
    (``settings.DATABASES``); there this only reads.
    """
    car.heads = Car.objects.select_for_update().values_list("heads", flat=True).get(pk=car.pk)


def take_turns(cars: Iterable[int]) -> None:
    """Wait for the turn of several cars before any is written to, in the order of their keys.

    Notes
    -----
    A line of the log is written in turn as well. Who held that turn and waited for a car would
    stand against who held the car and waited to write its line: neither could go on.
    """
    rows = Car.objects.select_for_update().filter(pk__in=set(cars)).order_by("pk")
    list(rows.values_list("pk", flat=True))
