"""Tags: what a label carries, unique over parts, places and stock of the workshop."""

from __future__ import annotations

import secrets
from collections.abc import Collection
from typing import Any

from asfound.record.models import Part, Place, SalvagePiece

ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Digits and capitals without 0, O, 1 and I, which hands and eyes confuse."""
LENGTH = 7
"""32⁷ tags: even a hundred thousand labels in use meet a new one once in 340,000 draws."""


def new_tag() -> str:
    """Tag that no part, place or piece of the stock has."""
    return new_tags(1)[0]


def new_tags(count: int) -> list[str]:
    """Tags, each different, that no part, place or piece of the stock has."""
    found: dict[str, None] = {}
    while len(found) < count:
        drawn = {_drawn() for _ in range(count - len(found))}
        found |= dict.fromkeys(sorted(drawn - taken_among(drawn)))
    return list(found)


def taken_among(tags: Collection[str]) -> set[str]:
    """Those of the tags that a part, a place or a piece of the stock carries."""
    models: tuple[Any, ...] = (Part, Place, SalvagePiece)
    carried = (model.objects.filter(tag__in=tags) for model in models)
    return {tag for rows in carried for tag in rows.values_list("tag", flat=True)}


def is_taken(tag: str) -> bool:
    """Whether a part, a place or a piece of the stock carries the tag."""
    return bool(taken_among([tag]))


def _drawn() -> str:
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))


def plain_tag(scanned: str) -> str:
    """Tag as a person types or a scanner reads it, address and spaces taken off.

    Examples
    --------
    >>> plain_tag("http://bench.local/t/k7q2mpx/ "), plain_tag("k7q 2mpx")
    ('K7Q2MPX', 'K7Q2MPX')
    """
    last = scanned.strip().rstrip("/").rsplit("/", 1)[-1]
    return "".join(last.split()).upper()
