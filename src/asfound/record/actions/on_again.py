"""A part that came off is on the car again; taken back where it was a slip."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.small_sheet import sheet_rows, write_sheet
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Arrival, Car, Entry
from asfound.record.tables.strip import is_off

ON_AGAIN = "on again"
"""How the log calls it."""


@transaction.atomic
def on_again(*, car: Car, parts: Collection[str], on: str, by: Any, key: str = "") -> Entry | None:
    """Line of the log of parts that are on the car again: one, or a sub-assembly together.

    Parameters
    ----------
    car : Car
    parts : collection of str
        Their numbers; those that are on already are left as they are.
    on : str
        EDTF day.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives None,
        as it does where all are on already.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the record does not know of one of them that it ever came off.
    """
    check_may_write(by)
    take_turn(car)
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return None
    how = sheet_rows(car, "removals")
    _check_came_off(parts, {row["part"] for row in how if row.get("off_on")})
    back = {row["part"]: row for row in how if row["part"] in parts and is_off(row)}
    if not back:
        return None
    for row in back.values():
        row["on_again"] = on
    write_sheet(car, "removals", how)
    told = {"off": {name: row["off_on"] for name, row in back.items()}, "on": on}
    return write_entry(action=ON_AGAIN, by=by, car=car, after=told)


@transaction.atomic
def undo_on_again(*, entry: Entry, by: Any) -> None:
    """Parts off again that one such line told to be on.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If none of them stands as it told.
    """
    check_may_write(by)
    if entry.action != ON_AGAIN or entry.car is None:
        raise InputError(field="entry", got=entry.action, allowed=ON_AGAIN)
    car, told = entry.car, entry.after or {}
    take_turn(car)
    how = sheet_rows(car, "removals")
    back = [
        row
        for row in how
        if told["off"].get(row["part"]) == row.get("off_on") and row.get("on_again") == told["on"]
    ]
    if not back:
        raise InputError(field="entry", got=str(entry), allowed="one that still stands")
    for row in back:
        row["on_again"] = ""
    write_sheet(car, "removals", how)
    write_entry(action="take being on again back", by=by, car=car, before=told)


def _check_came_off(parts: Collection[str], came_off: Collection[str]) -> None:
    never = sorted(set(parts) - set(came_off))
    if never or not parts:
        raise InputError(
            field="part",
            got=", ".join(never) or "nothing",
            allowed="a part that came off",
            remedy="Enter first that it came off.",
        )
