"""Keeping a spot that a device sent, once only and in its turn."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.db import transaction

from asfound.record.actions.film import import_film_rows
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.models import Arrival, Car

Rows = list[Mapping[str, str]]


def keep_spot(*, car: Car, rows: Callable[[], Rows], key: str, by: Any) -> Rows | None:
    """Rows that were kept; ``None`` if those of this key were kept before.

    Parameters
    ----------
    car : Car
    rows : callable
        Gives the rows, checked against the car as it is at that moment: nobody else writes to
        it between the check and the writing.
    key : str
        Made by the sender for this spot; empty for one that is sent once.
    by : user

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    with transaction.atomic():
        take_turn(car)
        if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
            return None
        kept = rows()
        import_film_rows(car=car, rows=kept, by=by)
    return kept
