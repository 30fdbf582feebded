"""Parts as a person names them: numbers or tags, with commas between them."""

from __future__ import annotations

from asfound.record.actions import plain_tag
from asfound.record.models import Car, Part


def names_in(typed: str) -> list[str]:
    """Numbers or tags, each once."""
    plain = typed.replace(";", ",").replace("\n", ",")
    return list(dict.fromkeys(name.strip() for name in plain.split(",") if name.strip()))


def unknown_among(names: list[str], parts: list[Part]) -> list[str]:
    """Names that none of the parts bears."""
    known = {part.part for part in parts} | {part.tag for part in parts}
    return [name for name in names if name not in known and plain_tag(name) not in known]


def find_parts(car: Car, names: list[str]) -> list[Part]:
    """Parts of the car by number or tag, those still there, each once in the order named."""
    tags = {plain_tag(name): name for name in names}
    numbered = {part.part: part for part in car.parts.filter(part__in=names)}
    tagged = {part.tag: part for part in car.parts.filter(tag__in=tags, fate="")}
    found = [numbered.get(name) or tagged.get(plain_tag(name)) for name in names]
    return list({part.pk: part for part in found if part is not None}.values())
