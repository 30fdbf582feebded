"""Rows that were typed, under the rules of the car folder."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from asfound.desk.tables.cell import NO_COLUMNS
from asfound.exchange import check_written
from asfound.exchange.dialect import Written
from asfound.exchange.numbers import without_unit
from asfound.exchange.rules import check_across
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.record.tables import TABLES, Column


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """Rows as the record keeps them, or what is wrong with them; never both."""

    rows: tuple[dict[str, str], ...] = ()
    faults: tuple[Fault, ...] = ()


def check_rows(
    rows: Sequence[Mapping[str, str]], columns: Sequence[Column], *, table: str, folder: CarFolder
) -> Checked:
    """Rows of a table beside the rest of the car; empty ones are left out.

    Faults bear the row's number among ``rows``, from 1. A row that is missed elsewhere, such as
    an edge that readings name, is a fault of the table as a whole.
    """
    head = tuple(column.name for column in columns)
    filled = tuple(
        (number, tuple(without_unit(row.get(column.name, ""), column) for column in columns))
        for number, row in enumerate(rows, start=1)
        if any(row.values())
    )
    written = Written(separator=NO_COLUMNS, head=head, rows=filled)
    title = table.replace("_", " ")
    sheet, faults = check_written(written, TABLES[table], file=title)
    if sheet is not None and not faults:
        sheet = replace(sheet, numbers=tuple(number for number, _ in filled))
        faults = list(_faults_across(sheet, table, folder, title))
    if faults or sheet is None:
        return Checked(faults=tuple(faults))
    return Checked(rows=tuple(dict(row.cells) for row in sheet))


def _faults_across(sheet: Sheet, table: str, folder: CarFolder, title: str) -> list[Fault]:
    """What shows only beside other tables; what was wrong there before is not told again."""
    file = TABLES[table].file
    before = set(check_across(folder.sheets))
    after = check_across({**folder.sheets, table: sheet})
    own = [replace(fault, file=title) for fault in after if fault.file == file]
    missed = [f for f in after if f.file != file and f not in before]
    return own + [replace(fault, row=0, value=_missed(fault)) for fault in missed]


def _missed(fault: Fault) -> str:
    return f"{fault.value} (row {fault.row} of {fault.file})"
