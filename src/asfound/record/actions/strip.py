"""What came off after what, entered while stripping; taken back where it was a slip."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.small_sheet import sheet_rows, write_sheet
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Arrival, Car, Entry
from asfound.record.tables.strip import is_off

CAME_OFF = "came off"
"""How the log calls it."""


@transaction.atomic
def came_off(
    *,
    car: Car,
    part: str,
    off_on: str,
    by: Any,
    after: str = "",
    because: str = "",
    way: str = "",
    key: str = "",
) -> Entry | None:
    """Line of the log of a part that came off, after another that held or hid it.

    Parameters
    ----------
    car : Car
    part : str
        Its number.
    off_on : str
        EDTF day; written for both parts unless they are off already.
    by : user or None
    after : str
        Number of what had to be off before; empty if nothing held the part.
    because : str
        ``held by it`` or ``hidden by it``; empty if nobody said.
    way : str
        Name of the way, where there are several to the part.
    key : str
        Made by the sender; what comes again under one key is not written again, and gives None.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If a number is of no part that is there, or the part came off after itself.
    """
    check_may_write(by)
    take_turn(car)
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return None
    _check_there(car, part, after)
    joint = {"part": part, "comes_off_after": after, "because": because, "way": way}
    joints = sheet_rows(car, "joints")
    is_new = bool(after) and not any(_is_same(row, joint) for row in joints)
    if is_new:
        write_sheet(car, "joints", [*joints, joint])
    was = _write_off(car, [name for name in (part, after) if name], off_on)
    told = {
        "part": part,
        "after": after,
        "joint": joint if is_new else None,
        "off": dict.fromkeys(was, off_on),
        "was": was,
    }
    return write_entry(action=CAME_OFF, by=by, car=car, after=told)


@transaction.atomic
def undo_came_off(*, entry: Entry, by: Any) -> None:
    """Take back what one such line wrote: its joint, and that its parts are off.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If nothing of it is there any longer.
    """
    check_may_write(by)
    told = entry.after or {}
    if entry.action != CAME_OFF or entry.car is None:
        raise InputError(field="entry", got=entry.action, allowed=CAME_OFF)
    car = entry.car
    take_turn(car)
    joints = sheet_rows(car, "joints")
    kept = [row for row in joints if told["joint"] is None or not _is_same(row, told["joint"])]
    how = sheet_rows(car, "removals")
    back = [_back_on(row, told["off"], told.get("was", {})) for row in how]
    if len(kept) == len(joints) and back == how:
        raise InputError(field="entry", got=str(entry), allowed="one that still stands")
    if len(kept) < len(joints):
        write_sheet(car, "joints", kept)
    if back != how:
        write_sheet(car, "removals", [row for row in back if _says_more(row)])
    write_entry(action="take coming off back", by=by, car=car, before=told)


def _check_there(car: Car, part: str, after: str) -> None:
    names = {part, after} - {""}
    there = set(car.parts.filter(fate="", part__in=names).values_list("part", flat=True))
    missing = sorted(names - there)
    if missing or not part:
        raise InputError(
            field="part",
            got=", ".join(missing) or "nothing",
            allowed="a part of this car that is still there",
            remedy="Enter the part in the register first.",
        )
    if part == after:
        raise InputError(field="after", got=after, allowed="another part than itself")


def _is_same(row: Mapping[str, str], joint: Mapping[str, str]) -> bool:
    return all(row.get(name, "") == joint[name] for name in ("part", "comes_off_after", "way"))


def _write_off(car: Car, parts: list[str], off_on: str) -> dict[str, dict[str, str]]:
    """Write the day for those that were not off; what their days were before is given back."""
    how = sheet_rows(car, "removals")
    known = {row["part"]: row for row in how}
    was: dict[str, dict[str, str]] = {}
    for name in parts:
        if name not in known:
            how.append({"part": name})
            known[name] = how[-1]
        row = known[name]
        if not is_off(row):
            was[name] = {day: row.get(day, "") for day in ("off_on", "on_again")}
            row |= {"off_on": off_on, "on_again": ""}
    if was:
        write_sheet(car, "removals", how)
    return was


def _back_on(
    row: Mapping[str, str], off: Mapping[str, str], was: Mapping[str, Mapping[str, str]]
) -> dict[str, str]:
    part = row.get("part", "")
    is_same = part in off and is_off(row) and row.get("off_on", "") == off[part]
    return {**row, "off_on": "", **was.get(part, {})} if is_same else dict(row)


def _says_more(row: Mapping[str, str]) -> bool:
    """Whether anything but its part is written."""
    return any(cell for name, cell in row.items() if name != "part")
