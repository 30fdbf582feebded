"""Rows of evidence, wear, numbers and odometer, each by an address that is what it says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.urls import reverse

from asfound.record.convert.standing import counts, row_mark, standing_words
from asfound.record.folder import CarFolder, Row
from asfound.record.results.aside import row_words

TABLES = ("evidence", "wear", "identifiers", "odometer")
"""Tables whose rows are doubted one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLine:
    """A row in words, its address, and what became of it where it does not count."""

    table: str
    words: str
    address: str
    aside: str
    row: Row

    @property
    def subject(self) -> str:
        """Part or panel whose evidence it is, for a row of evidence or of wear."""
        column = {"evidence": "subject", "wear": "part"}.get(self.table, "")
        return self.row.text(column)

    @property
    def written(self) -> list[tuple[str, str]]:
        """What stands in its cells, by the names of their columns."""
        stands = ("standing", "standing_why")
        cells = self.row.cells.items()
        return [(n.replace("_", " "), text) for n, text in cells if text and n not in stands]

    @property
    def counts(self) -> bool:
        """Whether nobody doubted or withdrew it."""
        return counts(self.row)


def row_lines(folder: CarFolder, table: str, slug: str) -> list[RowLine]:
    """Rows of a table, in its order."""
    return [
        RowLine(
            table=table,
            words=row_words(table, row),
            address=reverse("evidence-row", args=(slug, table, row_mark(row.cells))),
            aside=standing_words(row),
            row=row,
        )
        for row in folder.sheet(table)
    ]


def with_standing(
    rows: list[dict[str, str]], mark: str, *, standing: str, why: str
) -> list[dict[str, str]]:
    """Rows of a table, those of that mark with another standing."""
    stands: dict[str, Any] = {"standing": "" if standing == "holds" else standing}
    return [
        {**row, **stands, "standing_why": why} if row_mark(row) == mark else row for row in rows
    ]


def folder_with(folder: CarFolder, table: str, rows: list[dict[str, str]]) -> CarFolder:
    """Car with other rows in a table."""
    sheet = folder.sheet(table)
    columns = tuple(dict.fromkeys((*sheet.columns, *(name for row in rows for name in row))))
    cells = tuple(tuple(row.get(name, "") for name in columns) for row in rows)
    changed = replace(sheet, columns=columns, rows=cells, numbers=())
    return replace(folder, sheets={**folder.sheets, table: changed})


def set_aside(lines: list[RowLine]) -> Iterator[RowLine]:
    """Rows that do not count."""
    return (line for line in lines if not line.counts)
