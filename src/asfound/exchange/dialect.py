"""How a spreadsheet wrote its file: encoding, separator and decimal mark, found from the file."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, field

from asfound.exchange.numbers import Refusal
from asfound.record.faults import Fault

SEPARATORS = (",", ";", "\t")
csv.field_size_limit(1 << 30)  # how long a cell may be is the table's limit, not the reader's
HEAD_WITHIN_ROWS = 50
_SEPARATOR_WORDS = "comma, semicolon or tab"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A file taken apart: its head, its rows with their numbers, and how it was written.

    Parameters
    ----------
    separator : str
        What parts the columns; empty for a spreadsheet.
    head : tuple of str
    rows : tuple of (int, tuple of str)
        Each with the number that a spreadsheet shows beside it.
    head_row : int
        Number of the row that holds the head.
    sheet : str
        Name of the sheet of a spreadsheet.
    decimal : str
        Decimal mark that a person says the file has; empty for what its numbers show.
    typed : frozenset of (int, int)
        Row number and place of the cells that the file keeps as numbers, not as text.
    odd : mapping of (int, int) to Refusal
        Cells that hold something, but nothing that can be taken.
    """

    separator: str
    head: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    head_row: int = 1
    sheet: str = ""
    decimal: str = ""
    typed: frozenset[tuple[int, int]] = frozenset()
    odd: Mapping[tuple[int, int], Refusal] = field(default_factory=dict)


def decode(data: bytes, *, file: str) -> str | Fault:
    """Text of a file in UTF-8 (with or without mark), UTF-16 with mark, or cp1252."""
    try:
        if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            return data.decode("utf-16")
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError as error:
        return Fault(
            file=file,
            rule=f"byte {error.start} fits neither UTF-8 nor cp1252",
            remedy="Save the table as CSV in UTF-8.",
        )


def take_apart(
    text: str, *, file: str, known: frozenset[str] = frozenset(), separator: str = ""
) -> Written | Fault:
    """Head and rows of a CSV text; the separator is the one that shows most known columns.

    Parameters
    ----------
    text : str
    file : str
        Name for messages.
    known : frozenset of str
        Column names that the table declares, in lower case.
    separator : str
        What parts the columns, where that was found otherwise.
    """
    if "\x00" in text:
        return Fault(
            file=file,
            rule="the file holds NUL bytes, which a text table never does",
            remedy="Export the table as CSV; this looks like another kind of file.",
        )
    separator = separator or max(SEPARATORS, key=lambda mark: _known_columns(text, mark, known))
    lines = _lines(text, separator, file)
    if isinstance(lines, Fault):
        return lines
    if not lines:
        return Fault(
            file=file,
            rule="the file is empty",
            remedy="Give it its head line, or delete the file: every table is optional.",
        )
    return Written(
        separator=separator, head=lines[0][1], rows=tuple(lines[1:]), head_row=lines[0][0]
    )


def head_row(filled: Mapping[int, int]) -> int:
    """Number of the first row filled at least half as wide as the widest near the top.

    A title fills a cell or two. ``filled`` counts cells by row number, rising.
    """
    near = dict(list(filled.items())[:HEAD_WITHIN_ROWS])
    widest = max(near.values())
    return next(row for row, cells_n in near.items() if 2 * cells_n >= widest)


def _known_columns(text: str, separator: str, known: frozenset[str]) -> int:
    first = next((line for line in text.splitlines() if line.strip()), "")
    head = next(csv.reader([first], delimiter=separator), [])
    return sum(cell.strip().lower() in known for cell in head)


def _lines(text: str, separator: str, file: str) -> list[tuple[int, tuple[str, ...]]] | Fault:
    """Rows with the number a spreadsheet shows: a cell that holds line breaks is one row."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    lines = []
    number = read_n = 0
    try:
        for number, cells in enumerate(reader, start=1):
            read_n = reader.line_num
            if any(cell.strip() for cell in cells):
                lines.append((number, tuple(cell.strip() for cell in cells)))
    except csv.Error as error:
        return _broken_row(text.splitlines()[read_n:], number + 1, error, file)
    return lines


def _broken_row(left: list[str], row: int, error: csv.Error, file: str) -> Fault:
    """What stops the reader far below began in the row after the last whole one."""
    is_open = '"' in (left[0] if left else "")
    return Fault(
        file=file,
        row=row,
        column="the row" if left else "",
        value=left[0] if left else "",
        rule="a double quote opens in this row and is not closed as it should be"
        if is_open
        else f"the file cannot be read as a table from this row on ({error})",
        remedy="Close it, take it away, or double it where it belongs to the text."
        if is_open
        else f"Save it as CSV with {_SEPARATOR_WORDS} between the columns.",
    )
