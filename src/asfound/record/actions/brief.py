"""Setting the owner's brief."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.faults import ChangedMeanwhileError
from asfound.record.log import write_entry
from asfound.record.models import Brief, Car

NO_BRIEF = 0
"""What was seen by who saw no brief."""


@transaction.atomic
def set_brief(*, car: Car, content: Mapping[str, Any], by: Any, seen: int | None = None) -> Brief:
    """Brief that counts from now on; the one before is kept.

    Parameters
    ----------
    car : Car
    content : mapping
        As ``brief.json`` holds it, checked by the caller.
    by : user or None
    seen : int, optional
        Key of the brief that the person had before them, ``NO_BRIEF`` for none; without it the
        content stands whatever was there.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    ChangedMeanwhileError
        If another brief has come since the one that was seen, and says something else.
    """
    check_may_write(by)
    take_turn(car)
    before = car.briefs.last()
    if seen is not None and _says_else(car, before, seen):
        raise ChangedMeanwhileError("The brief was changed since this page was opened.")
    brief = Brief.objects.create(car=car, content=dict(content), by=by)
    write_entry(
        action="set brief",
        by=by,
        car=car,
        before=None if before is None else before.content,
        after=brief.content,
    )
    return brief


def _says_else(car: Car, now: Brief | None, seen: int) -> bool:
    if now is None or now.pk == seen:
        return False
    then = car.briefs.filter(pk=seen).first()
    return (now.content or {}) != ((then.content if then else None) or {})
