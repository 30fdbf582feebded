"""What a folder carries of the workshop so that its car can be planned anywhere, and its return."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace

from asfound.record.as_files import csv_bytes
from asfound.record.convert.plan import trades_of
from asfound.record.convert.workshop import OF_WORKSHOP, lent_to, sheet_of, with_workshop
from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.tables import TABLES

CARRIED = "of_workshop"
"""Where ``datapackage.json`` names the tables that were carried, each with its SHA-256."""
_STAYS = frozenset({"signs_in_as"})
"""Columns that mean nothing outside the record they come from."""
_KEY = {"people": "person", "bays": "bay", "closed_days": "days"}


def carried(car: CarFolder, workshop: Mapping[str, Sheet]) -> CarFolder:
    """The car with the people, bays and closed days of the workshop that its plan uses.

    Parameters
    ----------
    car : CarFolder
    workshop : mapping of str to Sheet

    Notes
    -----
    A table of which the car has rows of its own stays as it is, as in its plan. Of the others go
    with it: the people who have a trade that one of its tasks asks for, the bays that its tasks
    name if the workshop has them all, and all closed days; nothing where the car has no task.
    """
    lent = lent_to(with_workshop(car, workshop))
    found = {name: _used(car, name, workshop[name]) for name in OF_WORKSHOP if name in lent}
    found = {name: sheet for name, sheet in found.items() if len(sheet)}
    if not found or not len(car.sheet("tasks")):
        return car
    mark = {name: _sha256(sheet) for name, sheet in found.items()}
    return replace(car, sheets={**car.sheets, **found}, package={**car.package, CARRIED: mark})


def _used(car: CarFolder, table: str, sheet: Sheet) -> Sheet:
    tasks = car.sheet("tasks")
    asked = {row.text("trade") for row in tasks if row.number("people", default=1)}
    bays = {row.text("bay") for row in tasks} - {""}
    rows = list(sheet)
    if table == "people":
        rows = [row for row in rows if asked.intersection(trades_of(row))]
    elif table == "bays":
        rows = [row for row in rows if row.text("bay") in bays]
        if bays.difference(row.text("bay") for row in rows):
            return Sheet(columns=sheet.columns)
    return sheet_of(table, [_told(row) for row in rows])


def _told(row: Row) -> dict[str, str]:
    return {name: cell for name, cell in row.cells.items() if name not in _STAYS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Returned:
    """A folder as the record takes it.

    Parameters
    ----------
    folder : CarFolder
        Without what it carried and the workshop still has.
    tables : tuple of str
        Tables that are the workshop's again.
    gone : tuple of (str, str)
        Table and name of who or what was carried and is not in the workshop any more.
    """

    folder: CarFolder
    tables: tuple[str, ...]
    gone: tuple[tuple[str, str], ...]

    def words(self) -> str:
        """What was left to the workshop; empty for nothing."""
        if not self.tables:
            return ""
        files = ", ".join(TABLES[name].file for name in self.tables)
        told = f"{files}: as the workshop has them; nobody and nothing is there twice."
        if self.gone:
            names = ", ".join(name for _, name in self.gone)
            told += f" Not in the workshop's tables any more: {names}."
        return told


def returned(folder: CarFolder, workshop: Mapping[str, Sheet]) -> Returned:
    """The folder without the tables that it only carried for a workshop that is here.

    Parameters
    ----------
    folder : CarFolder
    workshop : mapping of str to Sheet

    Notes
    -----
    A carried table goes back to the workshop where nobody wrote in it since, by its SHA-256, and
    the workshop has such a table, which then stands, older or newer. Else the car keeps it as its
    own: what somebody wrote in is theirs, and a record without a workshop plans by it.
    """
    mark = folder.package.get(CARRIED)
    mark = mark if isinstance(mark, Mapping) else {}
    back = tuple(
        name
        for name in OF_WORKSHOP
        if name in folder.sheets
        and len(workshop.get(name, ()))
        and mark.get(name) == _sha256(folder.sheets[name])
    )
    sheets = {name: sheet for name, sheet in folder.sheets.items() if name not in back}
    package = {name: told for name, told in folder.package.items() if name != CARRIED}
    return Returned(
        folder=replace(folder, sheets=sheets, package=package) if mark else folder,
        tables=back,
        gone=tuple(
            (table, name)
            for table in back
            for name in _names(table, folder.sheets[table])
            if name not in _names(table, workshop[table])
        ),
    )


def _names(table: str, sheet: Sheet) -> list[str]:
    return [row.text(_KEY[table]) for row in sheet]


def _sha256(sheet: Sheet) -> str:
    """Of a table as it is written; what a spreadsheet spells otherwise is somebody's writing."""
    return hashlib.sha256(csv_bytes(sheet)).hexdigest()
