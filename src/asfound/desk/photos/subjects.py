"""What a photograph shows: a part, a panel, a piece that is decided on, or the car."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse

from asfound.craft.photographs import WHOLE_CAR
from asfound.record.models import Car
from asfound.record.models.part import part_words

OFFERED = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a photograph shows, in words, and where its page is; empty if it has none."""

    subject: str
    words: str
    address: str


def find_subject(car: Car, typed: str) -> str | None:
    """Name under which the record knows what was typed: a number, a tag, a name, a panel."""
    typed = typed.strip()
    if typed.casefold() in ("", WHOLE_CAR, "the car"):
        return WHOLE_CAR
    if car.parts.filter(part=typed).exists():
        return typed
    for rows, field in ((car.panels, "panel"), (car.subjects, "subject")):
        found = rows.filter(**{f"{field}__iexact": typed}).values_list(field, flat=True).first()
        if found is not None:
            return str(found)
    return _part_called(car, typed)


def _part_called(car: Car, typed: str) -> str | None:
    there = car.parts.filter(fate="")
    tagged = there.filter(tag=typed.upper()).values_list("part", flat=True).first()
    if tagged is not None:
        return str(tagged)
    called = list(there.filter(name__iexact=typed).values_list("part", flat=True)[:2])
    return str(called[0]) if len(called) == 1 else None


def subjects_offered(car: Car) -> list[tuple[str, str]]:
    """Names to offer and what each is."""
    panels = car.panels.values_list("panel", flat=True)
    parts = car.parts.filter(fate="").values_list("part", "name")[:OFFERED]
    return [(WHOLE_CAR, "the whole car"), *((p, "panel") for p in panels), *parts]


def shown_by(car: Car, subjects: Iterable[str]) -> dict[str, Shown]:
    """What each subject is in words, with two questions to the database at most."""
    wanted = set(subjects)
    parts = dict(car.parts.filter(part__in=wanted).values_list("part", "name"))
    panels = set(car.panels.filter(panel__in=wanted).values_list("panel", flat=True))
    return {name: _shown(car, name, parts, panels) for name in wanted}


def _shown(car: Car, name: str, parts: dict[str, str], panels: set[str]) -> Shown:
    words, address = name, ""
    if name in parts:
        words, address = part_words(name, parts[name]), reverse("part", args=(car.slug, name))
    elif name in panels:
        address = reverse("panel", args=(car.slug, name))
    elif name == WHOLE_CAR:
        words, address = "the car", reverse("car", args=(car.slug,))
    return Shown(subject=name, words=words, address=address)
