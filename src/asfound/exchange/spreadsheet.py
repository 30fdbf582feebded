"""A spreadsheet (.xlsx) taken apart as a CSV is: each sheet with its head and rows as text."""

from __future__ import annotations

import io
import lzma
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from typing import Any

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException

from asfound.exchange.dialect import Written, head_row
from asfound.exchange.numbers import Refusal
from asfound.exchange.package_guard import check_package
from asfound.exchange.sheet_scan import Scan, parts_of_sheets, scan_sheet
from asfound.exchange.spreadsheet_text import is_number, text_of
from asfound.record.faults import Fault

MAX_ROWS, MAX_COLUMNS = 50_000, 200
"""A long survey of one car has some thousand readings."""
_MAX_MERGED_ROWS = 1_000_000
_DAMAGED = (
    InvalidFileException,
    zipfile.BadZipFile,
    SyntaxError,  # of the XML: both parsers that the library may take raise a kind of it
    zlib.error,
    lzma.LZMAError,
    AttributeError,
    EOFError,
    IndexError,
    KeyError,
    NotImplementedError,
    OSError,
    OverflowError,
    RuntimeError,
    StopIteration,
    TypeError,
    ValueError,
)
"""What the library lets through when a package is damaged."""

Cells = dict[tuple[int, int], Any]


class _LimitError(Exception):
    """A sheet is larger than is taken."""


def read_spreadsheet(data: bytes, *, file: str) -> tuple[Written, ...] | Fault:
    """Sheets that hold something, in the order of the workbook.

    Parameters
    ----------
    data : bytes
        Content of an .xlsx file (ISO/IEC 29500-1).
    file : str
        Name for messages.

    Returns
    -------
    tuple of Written, or Fault
        At least one sheet. Numbers are written without loss; dates as ISO 8601 writes them; a
        formula is the value that the spreadsheet kept of it, and a cell whose formula was never
        worked or failed is in ``odd``. What stands in cells merged downwards holds for each of
        their rows. The head is the first row that is filled as a head is; rows above it (titles)
        are left out.
    """
    fault = check_package(data, file=file)
    if fault is not None:
        return fault
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and extensions that no table needs
            sheets = tuple(_sheets(data))
    except _LimitError as error:
        return _fault(file, str(error))
    except _DAMAGED as error:
        return _fault(file, f"the spreadsheet is damaged ({error})")
    return sheets or _fault(file, "no sheet of it holds anything")


def _fault(file: str, rule: str) -> Fault:
    remedy = "Open it in a spreadsheet, and save the sheet anew as .xlsx or as CSV."
    return Fault(file=file, rule=rule, remedy=remedy)


def _sheets(data: bytes) -> Iterator[Written]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = parts_of_sheets(archive)
        book = openpyxl.load_workbook(
            io.BytesIO(data), read_only=True, data_only=True, keep_links=False
        )
        for sheet in book.worksheets:
            with archive.open(parts[sheet.title]) as part:
                scan = scan_sheet(part)
            _check_extent(sheet.title, scan)
            written = _written(sheet, scan)
            if written is not None:
                yield written


def _check_extent(name: str, scan: Scan) -> None:
    """A few bytes can claim billions of cells."""
    if scan.last_row > MAX_ROWS or scan.last_column > MAX_COLUMNS:
        raise _LimitError(
            f"the sheet {name!r} reaches row {scan.last_row:,} and column "
            f"{scan.last_column:,}; {MAX_ROWS:,} rows of {MAX_COLUMNS} columns are taken"
        )
    merged_n = sum(min(last, scan.last_row) - first for _, first, _, last in scan.merged)
    if merged_n > _MAX_MERGED_ROWS:
        raise _LimitError(f"the sheet {name!r} merges more than {_MAX_MERGED_ROWS:,} rows of cells")


def _written(sheet: Any, scan: Scan) -> Written | None:
    cells, odd = _cells(sheet, scan)
    texts = {at: text_of(value) for at, value in cells.items()}
    rows = sorted({row for (row, _), text in texts.items() if text} | {row for row, _ in odd})
    if not rows:
        return None
    top = _head_row(rows, texts)
    _fill_down(cells, texts, odd, scan, top)
    lines = {row: _line(row, texts, odd, scan.last_column) for row in rows if row >= top}
    return Written(
        separator="",
        sheet=sheet.title,
        head_row=top,
        head=lines.pop(top),
        rows=tuple(lines.items()),
        typed=frozenset((row, c - 1) for (row, c), value in cells.items() if is_number(value)),
        odd={(row, column - 1): why for (row, column), (_, why) in odd.items()},
    )


def _cells(sheet: Any, scan: Scan) -> tuple[Cells, dict[tuple[int, int], tuple[str, Refusal]]]:
    """Values by row and column, and the cells that hold no value with what stands there."""
    cells: Cells = {}
    odd = {at: (formula, _NOT_WORKED) for at, formula in scan.not_worked.items()}
    if not scan.last_row:
        return cells, odd
    sheet.reset_dimensions()  # what the file says of its extent is a claim
    for number, row in enumerate(
        sheet.iter_rows(min_row=1, max_row=scan.last_row, max_col=scan.last_column), start=1
    ):
        for place, cell in enumerate(row, start=1):
            if cell.value is None:
                continue
            if cell.data_type == "e":
                odd[number, place] = (str(cell.value), _FAILED)
            else:
                cells[number, place] = _value(cell)
    return cells, odd


_NOT_WORKED = Refusal(
    "the cell holds a formula, and the file does not keep what it gives",
    "Open the file in a spreadsheet and save it, or write the value itself.",
)
_FAILED = Refusal(
    "the cell shows an error of the spreadsheet", "Mend the formula, or write the value itself."
)


def _value(cell: Any) -> Any:
    """Value of a cell; a day without hours where its format shows none."""
    value = cell.value
    if cell.is_date and hasattr(value, "date") and "h" not in (cell.number_format or "").lower():
        return value.date() if value.time().isoformat() == "00:00:00" else value
    return value


def _head_row(rows: list[int], texts: dict[tuple[int, int], str]) -> int:
    filled = dict.fromkeys(rows, 0)
    for (row, _), text in texts.items():
        filled[row] = filled.get(row, 0) + bool(text)
    return head_row({row: filled[row] for row in rows})


def _fill_down(
    cells: Cells,
    texts: dict[tuple[int, int], str],
    odd: dict[tuple[int, int], tuple[str, Refusal]],
    scan: Scan,
    top: int,
) -> None:
    """One cell over several rows was meant for each of them; over several columns, for one."""
    for column, first_row, _, last_row in scan.merged:
        first = (first_row, column)
        if first_row <= top or column > scan.last_column:
            continue
        for row in range(first_row + 1, min(last_row, scan.last_row) + 1):
            if first in odd:
                odd.setdefault((row, column), odd[first])
            elif first in cells:
                texts.setdefault((row, column), texts[first])
                cells.setdefault((row, column), cells[first])


def _line(
    row: int,
    texts: dict[tuple[int, int], str],
    odd: dict[tuple[int, int], tuple[str, Refusal]],
    width: int,
) -> tuple[str, ...]:
    """Cells of a row as text; what stands in an odd one is shown."""
    cells = ((row, column) for column in range(1, width + 1))
    return tuple(odd[at][0] if at in odd else texts.get(at, "") for at in cells)
