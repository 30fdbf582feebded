"""Tags for parts that came without, such as those of a loaded car folder."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from asfound.record.actions.observation import widen_head
from asfound.record.actions.tags import new_tags
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car


@transaction.atomic
def give_tags(*, car: Car, by: Any) -> int:
    """Count of parts of the car that got a tag; each part keeps the one it has.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    take_turn(car)
    bare = list(car.parts.current().filter(tag=""))
    for part, tag in zip(bare, new_tags(len(bare)), strict=True):
        part.tag = tag
    car.parts.bulk_update(bare, ["tag"], batch_size=500)
    if bare:
        given = {part.part: part.tag for part in bare}
        widen_head(car, "parts", [{"tag": bare[0].tag}])
        write_entry(action="give tags", by=by, car=car, after=given)
    return len(bare)
