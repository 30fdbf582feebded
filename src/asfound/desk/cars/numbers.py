"""The numbers of a car as read, beside what was expected."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.convert.numbers import CarMark, marks_of
from asfound.record.folder import CarFolder

SHOWN = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """One identifier as it stands on the car, and what the numbers check says of it."""

    kind: str
    text_as_read: str
    method: str
    where: str
    expected: str
    expected_source: str
    surface_note: str
    verdict: str
    words: str

    @property
    def differs(self) -> bool:
        """Whether it cannot be what was expected, or its dates are out of order."""
        return self.verdict == "conflict"


def numbers(folder: CarFolder) -> list[Number]:
    """Identifiers of the car, at most as many as a sheet shows."""
    return [_number(mark) for mark in marks_of(folder)[:SHOWN]]


def _number(mark: CarMark) -> Number:
    read = {name: mark.row.text(name) for name in Number.__slots__ if name in mark.row.cells}
    told = {"verdict": mark.judged.verdict, "words": mark.judged.words}
    return Number(**{**dict.fromkeys(Number.__slots__, ""), **read, **told})
