"""The numbers of a car as read, beside what was expected."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.folder import CarFolder, Row

SHOWN = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """One identifier as it stands on the car."""

    kind: str
    text_as_read: str
    method: str
    where: str
    expected: str
    expected_source: str
    surface_note: str

    @property
    def differs(self) -> bool:
        """Whether another text was expected; blanks and case do not count."""
        return bool(self.expected) and _bare(self.expected) != _bare(self.text_as_read)


def numbers(folder: CarFolder) -> list[Number]:
    """Identifiers of the car, at most as many as a sheet shows."""
    rows = list(folder.sheet("identifiers"))[:SHOWN]
    return [_number(row) for row in rows]


def _number(row: Row) -> Number:
    return Number(**{name: row.text(name) for name in Number.__slots__})


def _bare(text: str) -> str:
    return "".join(text.split()).casefold()
