"""Parts as they are offered while stripping: those handled lately first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from asfound.record.actions.small_sheet import sheet_rows
from asfound.record.actions.strip import CAME_OFF
from asfound.record.models import Car
from asfound.record.tables.strip import is_off

LATELY = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """A part that may have come off, or held what did; ``is_late`` if it was handled lately."""

    part: str
    name: str
    tag: str
    is_off: bool
    is_late: bool


def offered_while_stripping(car: Car) -> list[Offered]:
    """Parts of the car: those that came off, were moved or were looked at last first."""
    off = {row["part"] for row in sheet_rows(car, "removals") if is_off(row)}
    rows = car.parts.filter(fate="").order_by("position").values_list("part", "name", "tag")
    known = {part: (name, tag) for part, name, tag in rows}
    late = dict.fromkeys(part for part in _lately(car) if part in known)
    return [
        Offered(
            part=part,
            name=known[part][0],
            tag=known[part][1],
            is_off=part in off,
            is_late=part in late,
        )
        for part in dict.fromkeys([*late, *known])
    ]


def _lately(car: Car) -> Iterator[str]:
    entries = car.entries.filter(action=CAME_OFF).order_by("-pk")[:LATELY]
    for entry in entries:
        told = entry.after or {}
        yield from filter(None, (told["part"], told["after"]))
    seen = car.observations.current().filter(table__in=("moves", "findings"))
    yield from seen.order_by("-pk").values_list("subject", flat=True)[:LATELY]
