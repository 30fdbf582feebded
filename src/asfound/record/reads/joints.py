"""Which fixings belong to which joint, and which parts a joint holds together."""

from __future__ import annotations

import re

from asfound.record.actions import sheet_rows
from asfound.record.models import Car, Part

BETWEEN = " / "
"""What stands between the two parts of a joint, as the register offers it."""
_PARTED = re.compile(r"\s*(?:/|;|–|—|\bto\b)\s*")


def joints_offered(car: Car) -> list[str]:
    """Joints that were written down while stripping, as a bag of fixings names them."""
    rows = sheet_rows(car, "joints")
    named = (BETWEEN.join((row["part"], row["comes_off_after"])) for row in rows)
    return list(dict.fromkeys(named))


def joint_sides(part: Part) -> list[tuple[str, Part | None]]:
    """Sides of the joint that a bag of fixings belongs to, each with its part where it is one."""
    sides = [side for side in _PARTED.split(part.joint.strip()) if side]
    there = list(part.car.parts.filter(fate="").only("part", "name", "car")) if sides else []
    known = {one.name.casefold(): one for one in reversed(there)}
    known |= {one.part.casefold(): one for one in there}
    return [(side, known.get(side.casefold())) for side in sides]


def fixings_of(part: Part) -> list[Part]:
    """Bags of fixings whose joint names the part, by its number or its name."""
    names = {part.part.casefold(), part.name.casefold()} - {""}
    bags = part.car.parts.filter(fate="").exclude(joint="").exclude(pk=part.pk)
    return [bag for bag in bags if names & {s.casefold() for s in _PARTED.split(bag.joint.strip())}]
