"""How a spreadsheet wrote its file: encoding, separator and decimal mark, found from the file."""

from __future__ import annotations

import codecs
import csv
import io
from dataclasses import dataclass

from asfound.record.faults import Fault

SEPARATORS = (",", ";", "\t")
csv.field_size_limit(1 << 30)  # how long a cell may be is the table's limit, not the reader's
_SEPARATOR_WORDS = "comma, semicolon or tab"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A file taken apart: its head, its rows with their numbers, and the separator met."""

    separator: str
    head: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


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


def take_apart(text: str, *, file: str, known: frozenset[str]) -> Written | Fault:
    """Head and rows of a CSV text; the separator is the one that shows most known columns.

    Parameters
    ----------
    text : str
    file : str
        Name for messages.
    known : frozenset of str
        Column names that the table declares, in lower case.
    """
    if "\x00" in text:
        return Fault(
            file=file,
            rule="the file holds NUL bytes, which a text table never does",
            remedy="Export the table as CSV; this looks like another kind of file.",
        )
    separator = max(SEPARATORS, key=lambda mark: _known_columns(text, mark, known))
    try:
        lines = [
            (number, tuple(cell.strip() for cell in cells))
            for number, cells in _numbered(text, separator)
            if any(cell.strip() for cell in cells)
        ]
    except csv.Error as error:
        return Fault(
            file=file,
            rule=f"the file cannot be read as a table ({error})",
            remedy=f"Save it as CSV with {_SEPARATOR_WORDS} between the columns.",
        )
    if not lines:
        return Fault(
            file=file,
            rule="the file is empty",
            remedy="Give it its head line, or delete the file: every table is optional.",
        )
    return Written(separator=separator, head=lines[0][1], rows=tuple(lines[1:]))


def _known_columns(text: str, separator: str, known: frozenset[str]) -> int:
    first = next((line for line in text.splitlines() if line.strip()), "")
    head = next(csv.reader([first], delimiter=separator), [])
    return sum(cell.strip().lower() in known for cell in head)


def _numbered(text: str, separator: str) -> list[tuple[int, list[str]]]:
    """Rows with the number a spreadsheet shows: a cell that holds line breaks is one row."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    return list(enumerate(reader, start=1))
