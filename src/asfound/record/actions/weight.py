"""Weight of a piece as a person types it, in the place of what its criteria make."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.db.models import Max

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, Subject

_HEAD = ["subject", "weight", "min_grade", "zone"]


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
    if not car.options.filter(subject=subject).exists():
        raise InputError(field="subject", got=subject, allowed="a piece that has options")
    if weight is not None and weight < 0:
        raise InputError(field="weight", got=weight, allowed="zero or more")
    row = car.subjects.filter(subject=subject).first()
    before = None if row is None else row.weight
    if before == weight:
        return
    if row is None:
        last = car.subjects.aggregate(last=Max("position"))["last"]
        row = Subject(car=car, subject=subject, position=0 if last is None else last + 1)
        if not car.heads.get("subjects"):
            car.heads = {**car.heads, "subjects": _HEAD}
            car.save(update_fields=["heads"])
    row.weight = weight
    row.save()
    told = {"subject": subject, "weight": weight}
    write_entry(action="set weight", by=by, car=car, before={**told, "weight": before}, after=told)
