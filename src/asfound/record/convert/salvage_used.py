"""A use of the salvage stock on a car, in words that need no record at hand."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialUse:
    """Part of a piece that went to a car, or waits for it, in words.

    ``day`` is an ISO date; ``from_car`` and ``made`` are empty where nobody knows them.
    """

    number: str
    name: str
    kind: str
    from_car: str
    made: str
    what: str
    much: str
    part: str
    need: str
    day: str
    by: str
