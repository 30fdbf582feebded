"""A small table as a form: rows of fields as typed, and back to rows of cells."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import QueryDict

from asfound.desk.tables.fault_words import in_words
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES, Column, Form
from asfound.record.tables.words import heading

SPARE_ROWS = 3
_REMOVE = "remove"
_OTHER_FIELDS = 20
"""Fields of a form that are not cells: token, rows as seen, buttons."""

Cells = dict[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One field of the grid."""

    name: str
    column: Column
    value: str
    words: tuple[str, ...]
    offers: str
    wrong: bool
    heading: str
    """Column's name for people, with its unit."""

    @property
    def is_number(self) -> bool:
        """Whether a number is typed into it."""
        return self.column.form in (Form.NUMBER, Form.INTEGER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row of the grid with what is wrong in it."""

    number: int
    boxes: tuple[Box, ...]
    faults: tuple[Fault, ...]


def columns_of(
    table: str, rows: Sequence[Mapping[str, str]], *, trades: Sequence[str] = ()
) -> tuple[Column, ...]:
    """Columns as declared, one a trade where the table has such, then those of this car alone."""
    declared = [column.name for column in TABLES[table].columns]
    prefix = TABLES[table].prefix
    hours = [prefix + trade for trade in trades] if prefix else []
    names = dict.fromkeys([*declared, *hours, *(name for row in rows for name in row)])
    return tuple(TABLES[table].column(name) for name in names)


def most_rows(columns: Sequence[Column]) -> int:
    """How many rows one form may hold."""
    fields: int = settings.DATA_UPLOAD_MAX_NUMBER_FIELDS
    return (fields - _OTHER_FIELDS) // (len(columns) + 1) - SPARE_ROWS


def typed_rows(data: QueryDict, columns: Sequence[Column]) -> list[Cells]:
    """Rows as typed, those marked for removal or left empty among them as empty ones."""
    count = data.get("rows", "")
    rows_n = min(int(count), most_rows(columns) + SPARE_ROWS) if count.isdecimal() else 0
    return [_typed(data, number, columns) for number in range(1, rows_n + 1)]


def _typed(data: QueryDict, number: int, columns: Sequence[Column]) -> Cells:
    if data.get(field(number, _REMOVE)):
        return {}
    cells = {c.name: data.get(field(number, c.name), "").strip() for c in columns}
    return cells if any(cells.values()) else {}


def field(number: int, column: str) -> str:
    """Name of a cell's field; rows count from 1."""
    return f"{number}.{column}"


def lines(
    rows: Sequence[Mapping[str, str]],
    columns: Sequence[Column],
    table: str,
    *,
    faults: Sequence[Fault] = (),
) -> list[Line]:
    """Rows ready to be shown as fields, each with its faults."""
    offers = offered_lists(table)
    return [
        Line(
            number=number,
            boxes=tuple(_box(number, row, column, table, offers, faults) for column in columns),
            faults=tuple(in_words(f, table=table) for f in faults if f.row == number),
        )
        for number, row in enumerate(rows, start=1)
    ]


def _box(
    number: int,
    row: Mapping[str, str],
    column: Column,
    table: str,
    offers: Mapping[str, str],
    faults: Sequence[Fault],
) -> Box:
    return Box(
        name=field(number, column.name),
        column=column,
        heading=heading(column, table=table),
        value=row.get(column.name, ""),
        words=("yes", "no") if column.form is Form.YES_NO else column.words,
        offers=offers.get(column.name, ""),
        wrong=any(f.row == number and column.name in f.column.split(" and ") for f in faults),
    )


def offered_lists(table: str) -> dict[str, str]:
    """For each column that names rows of another table, the name of the list offered."""
    return {
        reference.columns[0]: "-".join(target for target, _ in reference.targets)
        for reference in TABLES[table].references
        if len(reference.columns) == 1
    }


def offered_names(table: str, folder: CarFolder) -> dict[str, list[str]]:
    """Names that a column may hold, by the name of the list."""
    names: dict[str, list[str]] = {}
    for reference in TABLES[table].references:
        listed = [
            row.text(columns[0])
            for target, columns in reference.targets
            for row in folder.sheet(target)
        ]
        names["-".join(target for target, _ in reference.targets)] = listed
    return names


def as_seen(rows: Sequence[Mapping[str, str]]) -> str:
    """Rows as the form carries them, to tell later whether somebody else changed them."""
    return json.dumps([dict(row) for row in rows], ensure_ascii=False, separators=(",", ":"))


def from_seen(text: str) -> list[Cells] | None:
    """Rows that the form carried; ``None`` if they are not rows of cells."""
    try:
        rows: Any = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        return None
    return [{str(name): str(cell) for name, cell in row.items()} for row in rows]
