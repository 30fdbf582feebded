"""An invented car of some 350 parts to take apart: what holds or hides what is made up."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from asfound.record.folder import CarFolder, Sheet

_SIDES = ("left", "right")
_REBUILD = (
    ("brake pipe rear", "brake fluid reservoir", "fluids", "bleed the brakes, furthest first"),
    ("cylinder head", "radiator cap", "fluids", "fill and bleed the cooling"),
    ("door lock left", "striker plate left", "alignment", "the door shuts before the striker"),
    ("door lock right", "striker plate right", "alignment", "the door shuts before the striker"),
    ("front wing left", "bonnet", "alignment", "gaps are set from the scuttle forward"),
    ("front wing right", "bonnet", "alignment", "gaps are set from the scuttle forward"),
    ("windscreen frame", "hood cloth", "seal", "the cloth is cut to the frame"),
    ("engine block", "front apron", "access", "the engine goes in from the front"),
)


@dataclass(slots=True)
class _Part:
    name: str
    section: str
    parent: str
    marks: dict[str, str]
    joints: list[tuple[str, str]]


def strip_car() -> CarFolder:
    """The invented car: parts, joints, removals and what the rebuild asks for."""
    parts = list(_parts((Path(__file__).parent / "strip_car.txt").read_text(encoding="utf-8")))
    removals = Sheet(
        columns=("part", "fragile", "people", "single_use", "bench"),
        rows=tuple(
            (p.name, m.get("f", "1"), m.get("p", ""), "yes" if "n" in m else "", m.get("b", ""))
            for p in parts
            for m in (p.marks,)
        ),
    )
    return CarFolder(
        sheets={
            "car": Sheet(
                columns=("marque", "model", "body_style", "built", "note"),
                rows=(("Orvelle", "Tansy", "open four-seater", "1957", "Made up."),),
            ),
            "parts": Sheet(
                columns=("part", "name", "parent", "section", "mass_kg", "significance"),
                rows=tuple(
                    (
                        p.name,
                        p.name.capitalize(),
                        p.parent,
                        p.section,
                        p.marks.get("m", ""),
                        p.marks.get("s", ""),
                    )
                    for p in parts
                ),
            ),
            "joints": Sheet(
                columns=("part", "comes_off_after", "way"),
                rows=tuple((p.name, first, way) for p in parts for way, first in p.joints),
            ),
            "removals": removals,
            "rebuild_links": Sheet(columns=("before", "after", "why", "note"), rows=_REBUILD),
        },
        package={"name": "strip-car", "invented": True},
    )


def _parts(text: str) -> Iterator[_Part]:
    for block in re.split(r"^\[", text, flags=re.MULTILINE)[1:]:
        section, _, rest = block.partition("]")
        lines = [line for line in rest.splitlines() if line]
        if "SIDE" in section:
            for side in _SIDES:
                yield from _door(section.replace("SIDE", side), lines, side)
            continue
        for line in lines:
            for side in _SIDES if "SIDE" in line.split("<")[0] else ("",):
                yield _part(line, section, side)


def _door(section: str, lines: list[str], side: str) -> Iterator[_Part]:
    """The door, then what belongs to it; names of its own parts get their side."""
    own = {re.split(r"[<|]", line)[0].strip() for line in lines}
    for line in lines:
        part = _part(line, section, side)
        joints = [(way, f"{n} {side}" if n in own else n) for way, n in part.joints]
        door = f"door {side}"
        if part.name == door:
            yield _Part(door, section, "", part.marks, joints)
        else:
            yield _Part(f"{part.name} {side}", section, door, part.marks, joints)


def _part(line: str, section: str, side: str) -> _Part:
    head, _, marks = line.partition("|")
    name, _, after = head.partition("<")
    groups = [group.partition(":") for group in after.split(";") if group.strip()]
    joints = [
        (way.strip() if colon else "", one.strip())
        for way, colon, rest in groups
        for one in (rest if colon else way).split(",")
    ]
    told = {m[0]: m[1:].lstrip(":") for m in re.split(r" (?=[fsmpnb])", marks.strip()) if m}
    sides = [(way, one.replace("SIDE", s)) for way, one in joints for s in _sides_of(one, side)]
    return _Part(name.strip().replace("SIDE", side), section, "", told, sides)


def _sides_of(name: str, side: str) -> tuple[str, ...]:
    return (side,) if side or "SIDE" not in name else _SIDES
