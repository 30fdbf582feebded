"""What a brief says of single pieces, and what the record tells of those."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from asfound.record.convert.safety import vital_pieces
from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder, Row
from asfound.weigh.evidence import same_words
from asfound.weigh.scale import NEUTRAL_UP_TO


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """Pieces on which lives hang, and pieces with evidence; empty where the brief does not ask."""

    vital: frozenset[str] = frozenset()
    with_evidence: frozenset[str] = frozenset()

    def told(self) -> list[list[str]]:
        """The same as plain data, for the key of what is computed from it."""
        return [sorted(self.vital), sorted(self.with_evidence)]


def grounds_of(car: CarFolder) -> Grounds:
    """What the brief of a car needs to know of its pieces.

    Parts and evidence are only read where the brief says what must not be touched or needs
    evidence: most do not, and a car can have thousands of parts.
    """
    brief = car.brief or {}
    if not (brief.get("untouched") or brief.get("needs_evidence")):
        return Grounds()
    subjects = dict.fromkeys(row.text("subject") for row in car.sheet("options"))
    return Grounds(vital=vital_pieces(car, subjects), with_evidence=_with_evidence(car, subjects))


def _with_evidence(car: CarFolder, subjects: Iterable[str]) -> frozenset[str]:
    """Pieces of which an item of evidence counts and is not neutral.

    Whether it is enough for what is planned is for people to judge: it says that something is
    known.
    """
    told = {
        same_words(row.text("subject"))
        for row in car.sheet("evidence")
        if counts(row) and _speaks(row)
    }
    return frozenset(name for name in subjects if same_words(name) in told)


def _speaks(row: Row) -> bool:
    lr: float = row.number("lr", default=1.0)
    return not 1 / NEUTRAL_UP_TO <= lr <= NEUTRAL_UP_TO


def names_in(content: Mapping[str, Any], key: str) -> frozenset[str]:
    """Names that a brief lists under a key."""
    return frozenset(str(name) for name in content.get(key) or ())
