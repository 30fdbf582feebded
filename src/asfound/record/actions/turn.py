"""One writer a car at a time: what an action reads still holds when it writes."""

from __future__ import annotations

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
