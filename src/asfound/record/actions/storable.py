"""What a database cannot hold though a text file can."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES


def check_storable(folder: CarFolder) -> None:
    """Raise every cell or entry that no database takes.

    Raises
    ------
    InputFaultsError
        For a NUL sign or half a character in a text, and for a number in JSON that is not
        finite.
    """
    faults = [*_in_tables(folder)]
    for file, content in (
        ("brief.json", folder.brief),
        ("lift.json", folder.lift),
        ("datapackage.json", folder.package),
    ):
        if not _is_storable(content):
            faults.append(_fault(file))
    if faults:
        raise InputFaultsError(tuple(faults))


def _in_tables(folder: CarFolder) -> Iterator[Fault]:
    for name, sheet in folder.sheets.items():
        if not all(map(_is_text, sheet.columns)):
            yield _fault(TABLES[name].file, row=1)
        for row in sheet:
            for column, cell in row.cells.items():
                if not _is_text(cell):
                    yield _fault(TABLES[name].file, row=row.number_in_file, column=column)


def _is_text(text: str) -> bool:
    return "\0" not in text and not any("\ud800" <= sign <= "\udfff" for sign in text)


def _is_storable(content: Any) -> bool:
    if isinstance(content, str):
        return _is_text(content)
    if isinstance(content, float):
        return math.isfinite(content)
    if isinstance(content, list | tuple):
        return all(map(_is_storable, content))
    if hasattr(content, "items"):
        return all(_is_storable(k) and _is_storable(v) for k, v in content.items())
    return True


def _fault(file: str, *, row: int = 0, column: str = "") -> Fault:
    return Fault(
        file=file,
        row=row,
        column=column,
        rule="it holds a sign that no database keeps (NUL, half a character, or infinity)",
        remedy="Type the text or number again.",
    )
