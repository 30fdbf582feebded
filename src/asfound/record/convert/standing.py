"""Rows that count, and rows that somebody doubted or withdrew with a reason."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping

from asfound.record.faults import Fault
from asfound.record.folder import Row

SET_ASIDE = ("doubted", "withdrawn")
_STANDING = ("standing", "standing_why")


def counts(row: Row) -> bool:
    """Whether a row counts: nobody doubted or withdrew it."""
    return row.text("standing") not in SET_ASIDE


def standing_words(row: Row) -> str:
    """What became of a row that does not count, such as ``doubted: a copy``; empty of others."""
    return "" if counts(row) else f"{row.text('standing')}: {row.text('standing_why')}"


def row_mark(cells: Mapping[str, str]) -> str:
    """Mark of what a row says, whatever its standing; rows of the same words share it."""
    said = sorted((name, text) for name, text in cells.items() if text and name not in _STANDING)
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()[:16]


def standing_faults(rows: Iterable[Row], *, file: str) -> Iterator[Fault]:
    """Rows that do not count and do not say why."""
    for row in rows:
        if not counts(row) and not row.text("standing_why"):
            yield Fault(
                file=file,
                row=row.number_in_file,
                column="standing",
                value=row.text("standing"),
                rule="standing_why must say why the statement does not count",
                remedy="Write the reason, or let the statement hold.",
            )
