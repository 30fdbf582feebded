"""Reasons of locks that are none: each row of ``locks.csv`` explains a lock of ``subjects.csv``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from asfound.record.faults import Fault
from asfound.record.folder import Sheet


def lock_faults(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Rows of ``locks`` in a folder without ``subjects``; with it the reference tells them."""
    if "subjects" in sheets:
        return
    for row in sheets.get("locks", Sheet(columns=())):
        yield Fault(
            file="locks.csv",
            row=row.number_in_file,
            column="subject and option",
            value=f"{row.text('subject')}, {row.text('option')}",
            rule="a reason belongs to a lock, and the folder has no subjects.csv",
            remedy="Add subjects.csv with the piece and its locked_option, or delete the row.",
        )
