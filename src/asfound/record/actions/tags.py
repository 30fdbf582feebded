"""Tags: what a label carries, unique over parts and places of the workshop."""

from __future__ import annotations

import secrets

from asfound.record.models import Part, Place

ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Digits and capitals without 0, O, 1 and I, which hands and eyes confuse."""
LENGTH = 7
"""32⁷ tags: even a hundred thousand labels in use meet a new one once in 340,000 draws."""


def new_tag() -> str:
    """Tag that neither a part nor a place has."""
    while True:
        tag = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
        if not is_taken(tag):
            return tag


def is_taken(tag: str) -> bool:
    """Whether a part or a place carries the tag."""
    return Part.objects.filter(tag=tag).exists() or Place.objects.filter(tag=tag).exists()


def plain_tag(scanned: str) -> str:
    """Tag as a person types or a scanner reads it, address and spaces taken off.

    Examples
    --------
    >>> plain_tag("http://bench.local/t/k7q2mpx/ "), plain_tag("k7q 2mpx")
    ('K7Q2MPX', 'K7Q2MPX')
    """
    last = scanned.strip().rstrip("/").rsplit("/", 1)[-1]
    return "".join(last.split()).upper()
