"""Pieces on which lives hang, and what is asked before one of them may be left alone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from asfound.choose import LEAVES_ALONE
from asfound.record.folder import CarFolder

KINDS = {
    "brakes": r"brak|handbrake|wheel cylinder|master cylinder",
    "steering": r"steering|track rod|drag link|king ?pin",
    "fuel": r"\bfuel|petrol|\btank\b|carburett",
    "tyres": r"\btyre|\btire|\bwheels?\b",
    "seat belts": r"seat ?belt|harness anchor",
    "lifting eyes": r"lifting eye|jacking point",
    "wiring": r"\bwiring|\bloom\b|electric",
}
"""Kinds of pieces by the words of their names (common practice, no source). A part whose
``safety`` is yes in ``parts.csv`` is one too, whatever it is called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UntestedPiece:
    """A piece on which lives hang that is left alone without a passed test."""

    subject: str
    kind: str

    def __str__(self) -> str:
        """What is missing, in words."""
        return (
            f"{self.subject} ({self.kind}) is left as found, and no passed test of it is on "
            "record. Test it and write the test down, or choose work on it."
        )


def safety_kind(car: CarFolder, subject: str) -> str:
    """The kind of danger of a subject; empty where there is none.

    Examples
    --------
    >>> safety_kind(CarFolder(), "brake drums"), safety_kind(CarFolder(), "seat trim")
    ('brakes', '')
    """
    return _kind_by_name(subject) or ("marked as safety" if subject in _marked(car) else "")


def vital_pieces(car: CarFolder, subjects: Iterable[str]) -> frozenset[str]:
    """Those of the subjects on which lives hang."""
    marked = _marked(car)
    return frozenset(name for name in subjects if name in marked or _kind_by_name(name))


def _kind_by_name(subject: str) -> str:
    found = (kind for kind, words in KINDS.items() if re.search(words, subject, re.IGNORECASE))
    return next(found, "")


def _marked(car: CarFolder) -> frozenset[str]:
    """Numbers and names of parts whose ``safety`` is yes."""
    safe = (row for row in car.sheet("parts") if row.text("safety") == "yes")
    return frozenset(name for row in safe for name in (row.text("part"), row.text("name")))


def passed_tests(car: CarFolder) -> frozenset[str]:
    """Subjects whose last test on record was passed."""
    last: dict[str, tuple[str, str]] = {}
    for row in car.sheet("safety_tests"):
        here = (row.text("tested_on"), row.text("passed"))
        last[row.text("subject")] = max(here, last.get(row.text("subject"), here))
    return frozenset(subject for subject, (_, passed) in last.items() if passed == "yes")


def untested_pieces(
    car: CarFolder, options: Mapping[str, str], treatments: Mapping[tuple[str, str], str]
) -> tuple[UntestedPiece, ...]:
    """Pieces of a choice on which lives hang and that are left alone without a passed test."""
    passed = passed_tests(car)
    return tuple(
        UntestedPiece(subject=subject, kind=kind)
        for subject, option in options.items()
        if treatments.get((subject, option)) in LEAVES_ALONE
        and subject not in passed
        and (kind := safety_kind(car, subject))
    )
