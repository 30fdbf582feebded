"""A file of readings from a gauge or a spreadsheet, taken apart as it stands."""

from __future__ import annotations

import csv
import re
from dataclasses import replace

from asfound.exchange.dialect import (
    HEAD_WITHIN_ROWS,
    SEPARATORS,
    Written,
    decode,
    head_row,
    take_apart,
)
from asfound.exchange.package_guard import is_spreadsheet
from asfound.exchange.spreadsheet import read_spreadsheet
from asfound.record.faults import Fault

_SEPARATOR_WORDS = {",": "comma", ";": "semicolon", "\t": "tab"}


def take_in(data: bytes, *, file: str) -> tuple[Written, ...] | Fault:
    """Sheets of the file, each with its head and rows; a text table is one.

    The separator of a text is the one that makes most columns; titles above the head are left
    out, as gauges write them.
    """
    if is_spreadsheet(data):
        return read_spreadsheet(data, file=file)
    text = decode(data, file=file)
    if isinstance(text, Fault):
        return text
    written = take_apart(text, file=file, separator=_separator(text))
    return written if isinstance(written, Fault) else (_without_titles(written),)


def _separator(text: str) -> str:
    lines = [line for line in text.splitlines() if line.strip()][:HEAD_WITHIN_ROWS]
    return max(SEPARATORS, key=lambda mark: max((_columns_n(x, mark) for x in lines), default=0))


def _columns_n(line: str, mark: str) -> int:
    """Filled cells of a line; a comma between digits may be a decimal one."""
    if mark == ",":
        line = re.sub(r"(?<=\d),(?=\d)", "", line)
    return sum(bool(cell.strip()) for cell in next(csv.reader([line], delimiter=mark), []))


def _without_titles(written: Written) -> Written:
    rows = ((written.head_row, written.head), *written.rows)
    top = head_row({number: sum(map(bool, cells)) for number, cells in rows})
    return replace(
        written,
        head=next(cells for number, cells in rows if number == top),
        head_row=top,
        rows=tuple(row for row in rows if row[0] > top),
    )


def dialect_words(written: Written) -> str:
    """How the file parts its columns and writes its decimals."""
    titles = f", the head in row {written.head_row}" if written.head_row > 1 else ""
    if written.sheet:
        return f"sheet “{written.sheet}”{titles}"
    cells = [cell for _, row in written.rows[:200] for cell in row]
    has_comma = any(re.fullmatch(r"[+-]?\d+,\d+", cell) for cell in cells)
    mark = written.decimal or ("," if has_comma else ".")
    words = {",": "comma", ".": "point"}[mark]
    return f"{_SEPARATOR_WORDS[written.separator]} between the columns, decimal {words}{titles}"
