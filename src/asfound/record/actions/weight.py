"""Weight of a piece as a person types it, in the place of what its criteria make."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.piece_row import keep_row, row_of_piece
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car


@transaction.atomic
def set_weight(*, car: Car, subject: str, weight: float | None, by: Any) -> None:
    """Weight that counts from now on; ``None`` gives it back to the criteria.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the car has no option for such a piece, or the weight is negative.
    """
    check_may_write(by)
    take_turn(car)
    row = row_of_piece(car, subject)
    if weight is not None and weight < 0:
        raise InputError(field="weight", got=weight, allowed="zero or more")
    before = row.weight
    if before == weight:
        return
    row.weight = weight
    keep_row(row, columns=("weight",))
    told = {"subject": subject, "weight": weight}
    write_entry(action="set weight", by=by, car=car, before={**told, "weight": before}, after=told)
