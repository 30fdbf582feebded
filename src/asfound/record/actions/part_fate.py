"""What becomes of a part: split, merged, replaced, withdrawn, lent; it stays in the register."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.observation import widen_head
from asfound.record.actions.part import Cells, add_parts, change_part
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, Part

_HANDED_ON = ("parent", "section", "place", "significance", "safety")


@transaction.atomic
def split_part(*, part: Part, names: Sequence[str], reason: str, by: Any) -> tuple[Part, ...]:
    """Parts that stand in the place of one that came apart, in the order of their names.

    Raises
    ------
    InputError
        If fewer than two names are given, the reason is empty, or the part is there no longer.
    """
    if len(names) < 2:
        raise InputError(field="names", got=len(names), allowed="two names or more")
    return _follow(part.car, [part], list(names), fate="split", reason=reason, by=by)


@transaction.atomic
def merge_parts(*, parts: Sequence[Part], name: str, reason: str, by: Any) -> Part:
    """Part that stands in the place of several of one car.

    Raises
    ------
    InputError
        If there are fewer than two, they are of several cars, or one is there no longer.
    """
    if len(parts) < 2 or len({part.car_id for part in parts}) != 1:
        raise InputError(field="parts", got=len(parts), allowed="two parts or more of one car")
    (made,) = _follow(parts[0].car, parts, [name], fate="merged", reason=reason, by=by)
    return made


@transaction.atomic
def replace_part(*, part: Part, name: str, reason: str, by: Any, source: str = "") -> Part:
    """Part fitted instead of another, which stays in the register and keeps its place.

    Parameters
    ----------
    part : Part
    name : str
    reason : str
    by : user or None
    source : str
        Where the new one comes from: another car, a supplier, the salvage stock.
    """
    (made,) = _follow(part.car, [part], [name], fate="replaced", reason=reason, by=by)
    if source:
        change_part(part=made, cells={"borrowed_from": source}, by=by)
    return made


@transaction.atomic
def withdraw_part(*, part: Part, reason: str, by: Any) -> None:
    """Let an entry count no longer, such as one made twice.

    Raises
    ------
    InputError
        If other parts belong to it, the reason is empty, or it is there no longer.
    """
    below = part.car.parts.current().filter(parent=part.part).count()
    if below:
        raise InputError(
            field="part",
            got=f"{part}, to which {below} parts belong",
            allowed="a part without parts",
            remedy="Give those another parent first.",
        )
    _follow(part.car, [part], [], fate="withdrawn", reason=reason, by=by)


@transaction.atomic
def lend_part(*, part: Part, to_car: Car, reason: str, by: Any) -> None:
    """Say that a part is on another car for the time being.

    Raises
    ------
    InputError
        If it is lent already, or to its own car.
    """
    if part.lent_to or to_car.pk == part.car_id:
        raise InputError(
            field="to_car", got=to_car.slug, allowed="another car, and a part that is at home"
        )
    _check_reason(reason)
    change_part(part=part, cells={"lent_to": f"{to_car.slug}: {reason.strip()}"}, by=by)


@transaction.atomic
def take_back_part(*, part: Part, by: Any) -> None:
    """Say that a lent part is home again; where it lies is said by moving it.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the part is not lent.
    """
    if not part.lent_to:
        raise InputError(field="part", got=str(part), allowed="a part that is lent")
    change_part(part=part, cells={"lent_to": ""}, by=by)


def _follow(
    car: Car, parts: Sequence[Part], names: list[str], *, fate: str, reason: str, by: Any
) -> tuple[Part, ...]:
    check_may_write(by)
    take_turn(car)
    _check_reason(reason)
    for part in parts:
        part.refresh_from_db()
        if part.fate:
            raise InputError(
                field="part", got=f"{part}, which is {part.fate}", allowed="a part that is there"
            )
    rows: list[Cells] = [{"name": name, **_handed_on(parts[0])} for name in names]
    made = add_parts(car=car, rows=rows, by=by) if rows else ()
    cells = {
        "fate": fate,
        "fate_reason": reason.strip(),
        "followed_by": ";".join(part.part for part in made),
    }
    car.parts.filter(pk__in=[part.pk for part in parts]).update(**cells)
    widen_head(car, "parts", [cells])
    write_entry(
        action=f"{fate} part",
        by=by,
        car=car,
        before={"parts": [part.part for part in parts]},
        after=cells,
    )
    return made


def _handed_on(part: Part) -> dict[str, str]:
    told = {name: getattr(part, name) for name in _HANDED_ON}
    told["safety"] = {True: "yes", False: "no", None: ""}[part.safety]
    told["significance"] = "" if part.significance is None else f"{part.significance:g}"
    return {name: str(cell) for name, cell in told.items() if cell}


def _check_reason(reason: str) -> None:
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
