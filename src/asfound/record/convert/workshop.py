"""People, bays and closed days of the workshop, which serve every car that brings none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.record.tables import TABLES

WORDS = {
    "people": "the workshop's table of people",
    "bays": "the workshop's table of bays",
    "closed_days": "the workshop's table of closed days",
}
"""Tables that the workshop has once for all cars, and how a fault names them."""
OF_WORKSHOP = tuple(WORDS)


class SharedSheets(Mapping[str, Sheet]):
    """Tables of a car, with those of the workshop where the car has no row of its own."""

    def __init__(self, own: Mapping[str, Sheet], workshop: Mapping[str, Sheet]) -> None:
        self._own, self._workshop = own, workshop
        self.lent = frozenset(
            name for name, sheet in workshop.items() if len(sheet) and not len(own.get(name, ()))
        )

    def __getitem__(self, name: str) -> Sheet:
        """Table of that name."""
        return self._workshop[name] if name in self.lent else self._own[name]

    def __iter__(self) -> Iterator[str]:
        """Names of the tables."""
        return iter(dict.fromkeys([*self._own, *sorted(self.lent)]))

    def __len__(self) -> int:
        """Count the tables."""
        return sum(1 for _ in self)


def with_workshop(car: CarFolder, workshop: Mapping[str, Sheet]) -> CarFolder:
    """The car as it is planned: its own people, bays and closed days, else those of the workshop.

    Each of the three tables is taken by itself; a car's folder that brings people of its own
    and no bays works with the workshop's bays.
    """
    shared = {name: sheet for name, sheet in workshop.items() if name in WORDS}
    return replace(car, sheets=SharedSheets(car.sheets, shared)) if shared else car


def lent_to(car: CarFolder) -> frozenset[str]:
    """Tables that the car has from the workshop."""
    return car.sheets.lent if isinstance(car.sheets, SharedSheets) else frozenset()


def sheet_of(table: str, rows: Iterable[Mapping[str, str]]) -> Sheet:
    """Rows of cells as a table."""
    kept = list(rows)
    declared = [column.name for column in TABLES[table].columns]
    names = list(dict.fromkeys([*declared, *(name for row in kept for name in row)]))
    return Sheet(
        columns=tuple(names), rows=tuple(tuple(row.get(n, "") for n in names) for row in kept)
    )


def named(faults: Iterable[Fault], lent: frozenset[str]) -> list[Fault]:
    """The same faults with the workshop's tables called what they are."""
    return [_named(fault, lent) for fault in faults]


def _named(fault: Fault, lent: frozenset[str]) -> Fault:
    for table in lent:
        file, words = TABLES[table].file, WORDS[table]
        fault = replace(
            fault,
            file=words if fault.file == file else fault.file,
            rule=fault.rule.replace(file, words),
            remedy=fault.remedy.replace(file, words),
        )
    return fault
