"""Pieces of the choice by what they are on the car: a panel, a part, or what a part sits in."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Q

from asfound.record.models import Car

_DEEPEST = 50
"""Levels of assemblies that are climbed; more would be a ring."""


def names_at(car: Car, subject: str) -> Iterator[str]:
    """Names under which a panel or part may be decided on, the nearest first.

    Its own name and that of the part; pieces whose ``panel`` or ``part`` it is; then the same of
    the assembly that it sits in, and so on up.
    """
    at = subject
    for _ in range(_DEEPEST):
        yield at
        part = car.parts.filter(part=at).first()
        if part is not None:
            yield part.name
        own = Q(extra__panel=at) | Q(extra__part=at)
        yield from car.subjects.filter(own).values_list("subject", flat=True)
        if part is None or not part.parent:
            return
        at = part.parent
