"""The fault of one cell, told with its file, row and value."""

from __future__ import annotations

from asfound.record.faults import Fault
from asfound.record.folder import Row


def cell_fault(file: str, row: Row, column: str, rule: str, remedy: str) -> Fault:
    """Fault of the cell of a column in a row."""
    return Fault(
        file=file,
        row=row.number_in_file,
        column=column,
        value=row.text(column),
        rule=rule,
        remedy=remedy,
    )
