"""Setting the owner's brief."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Brief, Car


@transaction.atomic
def set_brief(*, car: Car, content: Mapping[str, Any], by: Any) -> Brief:
    """Brief that counts from now on; the one before is kept.

    Parameters
    ----------
    car : Car
    content : mapping
        As ``brief.json`` holds it, checked by the caller.
    by : user or None
    """
    check_may_write(by)
    take_turn(car)
    before = car.briefs.last()
    brief = Brief.objects.create(car=car, content=dict(content), by=by)
    write_entry(
        action="set brief",
        by=by,
        car=car,
        before=None if before is None else before.content,
        after=brief.content,
    )
    return brief
