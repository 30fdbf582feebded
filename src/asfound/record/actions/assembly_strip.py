"""How the parts of a template come off and go on again: kept with it, written where it is used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from asfound.record.actions.small_sheet import sheet_rows, write_sheet
from asfound.record.models import Car
from asfound.record.tables import Table
from asfound.record.tables.strip import TABLES as STRIP

Cells = dict[str, str]
OF_ONE_CAR = frozenset({"off_on", "on_again"})
"""What holds of the car it was taken from alone."""


def kept_strip(car: Car, parts: Iterable[str]) -> dict[str, list[Cells]]:
    """Rows by table that speak of these parts alone: joints, removals, links of the rebuild."""
    inside = set(parts)
    found = {
        table.name: [
            {name: cell for name, cell in row.items() if cell and name not in OF_ONE_CAR}
            for row in sheet_rows(car, table.name)
            if all(row[column] in inside for column in _columns_of_parts(table))
        ]
        for table in STRIP
    }
    return {table: rows for table, rows in found.items() if rows}


def write_strip(
    car: Car, strip: Mapping[str, Iterable[Mapping[str, str]]], *, new: Mapping[str, str]
) -> dict[str, int]:
    """Write such rows for parts of other numbers; how many were written, by table.

    The caller took the turn and writes the log.
    """
    written = {}
    for table in STRIP:
        rows = [dict(_renamed(row, table, new)) for row in strip.get(table.name, ())]
        if rows:
            write_sheet(car, table.name, [*sheet_rows(car, table.name), *rows])
            written[table.name] = len(rows)
    return written


def _columns_of_parts(table: Table) -> list[str]:
    return [reference.columns[0] for reference in table.references]


def _renamed(
    row: Mapping[str, str], table: Table, new: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    columns = _columns_of_parts(table)
    for name, cell in row.items():
        yield name, new[cell] if name in columns else cell
