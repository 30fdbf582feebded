"""One table of the car folder: its head and rows against the table's declaration."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from asfound.exchange.cells import Refusal, check_cell
from asfound.exchange.dialect import Written, decode, take_apart
from asfound.exchange.numbers import found_mark
from asfound.record.faults import Fault
from asfound.record.folder import Sheet
from asfound.record.tables import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """A table as met in a file: where each named column stands, and how numbers are written."""

    table: Table
    file: str
    written: Written
    found: str
    columns: tuple[str, ...]
    places: tuple[int, ...]

    def fault(
        self, row: int, rule: str, remedy: str, *, column: str = "", value: str = ""
    ) -> Fault:
        """A fault of this file."""
        return Fault(file=self.file, row=row, column=column, value=value, rule=rule, remedy=remedy)


def read_sheet(data: bytes, table: Table, *, file: str) -> tuple[Sheet | None, list[Fault]]:
    """One table from the bytes of its file, with the faults found in it.

    The sheet is ``None`` where the file cannot be read as that table at all.
    """
    written = _taken_apart(data, table, file)
    if isinstance(written, Fault):
        return None, [written]
    sheet, faults = check_written(written, table, file=file, by_contract=True)
    if sheet is None:
        return None, faults
    return replace(sheet, numbers=tuple(number for number, _ in written.rows)), faults


def _taken_apart(data: bytes, table: Table, file: str) -> Written | Fault:
    if file.lower().endswith(".xlsx"):
        # The library of spreadsheets takes long to load.
        from asfound.exchange.spreadsheet import read_spreadsheet  # noqa: PLC0415

        sheets = read_spreadsheet(data, file=file)
        if isinstance(sheets, Fault):
            return sheets
        return next((s for s in sheets if s.sheet.lower() == table.name), sheets[0])
    text = decode(data, file=file)
    if isinstance(text, Fault):
        return text
    known = frozenset(column.name.lower() for column in table.columns)
    return take_apart(text, file=file, known=known)


def check_written(
    written: Written, table: Table, *, file: str, by_contract: bool = False
) -> tuple[Sheet | None, list[Fault]]:
    """Checked sheet of a table that was taken apart, with the faults found in it.

    Parameters
    ----------
    written : Written
    table : Table
    file : str
        Name for messages.
    by_contract : bool
        Whether the file is one of a car folder, where a point between commas marks decimals.
    """
    names = _declared_names(written.head, table)
    places = tuple(i for i, name in enumerate(names) if name)
    columns = tuple(name for name in names if name)
    met = Met(
        table=table,
        file=file,
        written=written,
        found="."
        if by_contract and written.separator == ","
        else _found_mark(written, table, columns, places),
        columns=columns,
        places=places,
    )
    faults = list(_head_faults(met))
    if faults:
        return None, faults
    rows = []
    for number, cells in written.rows:
        row, found = _checked_row(number, cells, met)
        rows.append(row)
        faults += found
    numbers = [number for number, _ in written.rows]
    faults += _count_faults(numbers, met)
    faults += _key_faults(numbers, rows, met)
    return Sheet(columns=met.columns, rows=tuple(rows)), faults


def _found_mark(
    written: Written, table: Table, columns: tuple[str, ...], places: tuple[int, ...]
) -> str:
    """Decimal mark of the numbers that stand as text: a cell kept as a number shows none."""
    declared = [(place, table.column(name)) for place, name in zip(places, columns, strict=True)]
    return found_mark(
        (cells[place], column)
        for number, cells in written.rows
        for place, column in declared
        if place < len(cells) and (number, place) not in written.typed
    )


def _declared_names(head: tuple[str, ...], table: Table) -> list[str]:
    """Column names as declared, whatever their case in the file; unknown ones as they stand."""
    declared = {column.name.lower(): column.name for column in table.columns}
    names = []
    for cell in head:
        lower = cell.lower()
        is_prefixed = table.prefix and lower.startswith(table.prefix)
        names.append(declared.get(lower, lower if is_prefixed else cell))
    return names


def _head_faults(met: Met) -> Iterator[Fault]:
    required = [column.name for column in met.table.columns if column.required]
    for name in required:
        if name not in met.columns:
            yield met.fault(
                met.written.head_row,
                f"the column {name} is missing",
                f"Add it; {met.file} needs {', '.join(required)}.",
            )
    if met.table.one_of and not set(met.table.one_of) & set(met.columns):
        wanted = " or ".join(met.table.one_of)
        yield met.fault(
            met.written.head_row, f"there is no column {wanted}", f"Add a column {wanted}."
        )
    for name in dict.fromkeys(met.columns):
        if met.columns.count(name) > 1:
            yield met.fault(
                met.written.head_row,
                f"the column {name} stands {met.columns.count(name)} times",
                "Keep one of them, or rename the others.",
            )


def _checked_row(
    number: int, cells: tuple[str, ...], met: Met
) -> tuple[tuple[str, ...], list[Fault]]:
    faults = []
    loose = [cell for i, cell in enumerate(cells) if cell and i not in met.places]
    if loose:
        faults.append(
            met.fault(
                number,
                "the row has more cells than the head has columns",
                "Put text that holds the separator between double quotes.",
                column="a cell without a column",
                value=loose[0],
            )
        )
    row = []
    for place, name in zip(met.places, met.columns, strict=True):
        text = cells[place] if place < len(cells) else ""
        result = _checked_cell(text, number, place, met, name)
        if isinstance(result, Refusal):
            faults.append(met.fault(number, result.rule, result.remedy, column=name, value=text))
            result = text
        row.append(result)
    return tuple(row), faults


def _checked_cell(text: str, number: int, place: int, met: Met, name: str) -> str | Refusal:
    at = (number, place)
    if at in met.written.odd:
        return met.written.odd[at]
    return check_cell(
        text,
        met.table.column(name),
        separator=met.written.separator,
        found=met.found,
        told="." if at in met.written.typed else met.written.decimal,
    )


def _count_faults(numbers: list[int], met: Met) -> Iterator[Fault]:
    if met.table.one_row and len(numbers) != 1:
        yield met.fault(
            numbers[1] if len(numbers) > 1 else 0,
            f"the table holds one row, not {len(numbers)}",
            "Keep one car in a folder.",
        )


def _key_faults(numbers: list[int], rows: list[tuple[str, ...]], met: Met) -> Iterator[Fault]:
    seen: dict[tuple[str, ...], int] = {}
    key = [met.columns.index(name) for name in met.table.key if name in met.columns]
    one_of = [met.columns.index(name) for name in met.table.one_of if name in met.columns]
    for number, row in zip(numbers, rows, strict=True):
        if one_of and not any(row[i] for i in one_of):
            wanted = " or ".join(met.table.one_of)
            yield met.fault(number, f"{wanted} must be filled", "Name one of them.")
        value = tuple(row[i] for i in key)
        if value and value in seen:
            yield met.fault(
                number,
                f"row {seen[value]} has the same; it must be unique",
                "Rename one of them, or delete the row that stands twice.",
                column=" and ".join(met.table.key),
                value=", ".join(value),
            )
        seen.setdefault(value, number)
