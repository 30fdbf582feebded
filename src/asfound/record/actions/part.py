"""Parts: entered, described, moved; a part never leaves the register."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence, Set
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.observation import add_observations, widen_head
from asfound.record.actions.tags import new_tags, taken_among
from asfound.record.actions.turn import take_turn, take_turns
from asfound.record.actions.who import check_may_write
from asfound.record.convert.stored_cells import cell_of, fields_of
from asfound.record.convert.storing import store_rows
from asfound.record.folder import Row
from asfound.record.log import write_entry
from asfound.record.models import Arrival, Car, Part
from asfound.record.tables import TABLES

Cells = Mapping[str, str]
PARTS = TABLES["parts"]


@transaction.atomic
def add_parts(*, car: Car, rows: Iterable[Cells], by: Any, key: str = "") -> tuple[Part, ...]:
    """Parts entered after those that are there, all or none.

    Parameters
    ----------
    car : Car
    rows : iterable of mapping
        Cells by column, checked by the exchange. ``name`` must be filled; a part without a
        number gets the next one, a part without a tag a new one.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives ().

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If a name is empty, a number or tag is taken, or a parent does not exist.
    """
    check_may_write(by)
    take_turn(car)
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return ()
    cells = _numbered(car, [dict(row) for row in rows])
    _check_names(car, cells)
    last = car.parts.aggregate(last=Max("position"))["last"]
    first = 0 if last is None else last + 1
    store_rows(car, "parts", (Row(c, n) for n, c in enumerate(cells, 2)), by=by, first=first)
    widen_head(car, "parts", cells)
    write_entry(action="add parts", by=by, car=car, after={"parts": cells})
    placed = [
        {"part": c["part"], "from_place": "", "to_place": c["place"]}
        for c in cells
        if c.get("place")
    ]
    _write_moves(car, placed, by)
    return tuple(car.parts.filter(part__in=[c["part"] for c in cells]))


@transaction.atomic
def change_part(*, part: Part, cells: Cells, by: Any, seen: Cells | None = None) -> Part:
    """Part with other cells; where it lies is changed by ``move_parts`` alone.

    Parameters
    ----------
    part : Part
    cells : mapping
        Cells by column, checked by the exchange.
    by : user or None
    seen : mapping, optional
        The same cells as the person saw them; a change by somebody else meanwhile is refused.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If number, place or fate are among them, a name is empty, or the part changed meanwhile.
    """
    check_may_write(by)
    take_turn(part.car)
    part.refresh_from_db()
    fixed = sorted(set(cells) & {"part", "place", "fate", "fate_reason", "followed_by"})
    if fixed:
        raise InputError(field=fixed[0], got=cells[fixed[0]], allowed="changed by its own action")
    before = {name: cell_of(part, name, PARTS) for name in cells}
    if seen is not None and {name: seen.get(name, "") for name in cells} != before:
        raise InputError(
            field="part",
            got="a part that somebody else changed meanwhile",
            allowed="the part as you saw it",
            remedy="Open the page again and make the change once more.",
        )
    row = {"part": part.part, "name": part.name, "parent": part.parent, **cells}
    _check_cells(row, known=set(part.car.parts.values_list("part", flat=True)))
    _check_parent_is_not_below(part, row["parent"])
    if cells.get("tag", part.tag) != part.tag:
        _check_tags([cells["tag"]])
    for field, value in fields_of(Row(cells, 0), PARTS, Part).items():
        setattr(part, field, {**part.extra, **value} if field == "extra" else value)
    part.save()
    widen_head(part.car, "parts", [cells])
    write_entry(
        action="change part",
        by=by,
        car=part.car,
        before={"part": part.part, **before},
        after={"part": part.part, **cells},
    )
    return part


@transaction.atomic
def move_parts(
    *, parts: Sequence[Part], to_place: str, by: Any, note: str = "", key: str = ""
) -> int:
    """Put parts of one car into a place; their number, 0 if this key came before.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If there is no part, they are of several cars, or one of them is there no longer.
    """
    check_may_write(by)
    cars = {part.car_id for part in parts}
    if len(cars) != 1:
        raise InputError(field="parts", got=len(parts), allowed="one or more parts of one car")
    car = parts[0].car
    take_turn(car)
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return 0
    now = car.parts.in_bulk([part.pk for part in parts])  # as the one before in turn left them
    parts = [now[part.pk] for part in parts]
    gone = [part.part for part in parts if part.fate]
    if gone:
        raise InputError(field="parts", got=", ".join(gone), allowed="parts that are still there")
    moves = [
        {"part": part.part, "from_place": part.place, "to_place": to_place, "note": note}
        for part in parts
    ]
    car.parts.filter(pk__in=[part.pk for part in parts]).update(place=to_place)
    widen_head(car, "parts", [{"place": to_place}])
    _write_moves(car, moves, by)
    return len(moves)


@transaction.atomic
def move_parts_together(
    *, parts: Sequence[Part], to_place: str, by: Any, note: str = "", key: str = ""
) -> int:
    """Put parts of any cars into a place, all or none; their number, 0 if this key came before.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If one of them is there no longer.
    """
    check_may_write(by)
    by_car: dict[int, list[Part]] = {}
    for part in parts:
        by_car.setdefault(part.car_id, []).append(part)
    take_turns(by_car)
    return sum(
        move_parts(parts=of_car, to_place=to_place, by=by, note=note, key=key)
        for of_car in by_car.values()
    )


def _write_moves(car: Car, moves: Sequence[dict[str, str]], by: Any) -> None:
    if moves:
        at = timezone.now().strftime("%Y-%m-%dT%H:%MZ")
        who = "" if by is None else by.get_username()
        rows = [{**move, "moved_at": at, "by": who} for move in moves]
        add_observations(car=car, table="moves", rows=rows, by=by)


def next_numbers(car: Car, count: int) -> list[str]:
    """Numbers for new parts, counted on from the highest that the car has."""
    taken = car.parts.values_list("part", flat=True)
    numbers = [int(name) for name in taken if re.fullmatch(r"\d{1,9}", name, re.ASCII)]
    first = max(numbers, default=0) + 1
    return [f"{number:04d}" for number in range(first, first + count)]


def _numbered(car: Car, rows: list[dict[str, str]]) -> list[dict[str, str]]:
    numbers = iter(next_numbers(car, len(rows)))
    given = [row["tag"] for row in rows if row.get("tag")]
    _check_tags(given)
    tags = iter(new_tags(len(rows) - len(given)))
    for row in rows:
        row["part"] = row.get("part") or next(numbers)
        row["tag"] = row.get("tag") or next(tags)
    return rows


def _check_tags(tags: list[str]) -> None:
    twice = taken_among(tags) | {tag for tag, n in Counter(tags).items() if n > 1}
    if twice:
        raise InputError(
            field="tag",
            got=", ".join(sorted(twice)),
            allowed="free",
            remedy="Use another label.",
        )


def _check_names(car: Car, rows: list[dict[str, str]]) -> None:
    names = Counter(row["part"] for row in rows)
    there = set(car.parts.values_list("part", flat=True))
    twice = sorted({name for name, n in names.items() if n > 1 or name in there})
    if twice:
        raise InputError(
            field="part",
            got=", ".join(twice),
            allowed="a number that no other part of the car has",
            remedy="Leave the number empty to get the next one.",
        )
    known = there | set(names)
    for row in rows:
        _check_cells(row, known=known)


def _check_cells(row: Cells, *, known: Set[str]) -> None:
    if not row.get("name", "").strip():
        raise InputError(field="name", got="", allowed="given: what the part is called")
    parent = row.get("parent", "")
    if parent and (parent not in known or parent == row["part"]):
        raise InputError(field="parent", got=parent, allowed="the number of a part of this car")


def _check_parent_is_not_below(part: Part, parent: str) -> None:
    """Parts lie in one another without a circle."""
    parents = dict(part.car.parts.values_list("part", "parent"))
    above, met = parent, set[str]()
    while above and above not in met:
        if above == part.part:
            raise InputError(
                field="parent", got=parent, allowed="a part that is not within this one"
            )
        met.add(above)
        above = parents.get(above, "")
