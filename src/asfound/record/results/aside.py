"""Rows of evidence, wear, numbers and odometer that somebody doubted or withdrew, in words."""

from __future__ import annotations

from asfound.record.convert.standing import counts, standing_words
from asfound.record.folder import CarFolder, Row


def row_words(table: str, row: Row) -> str:
    """What a row of ``evidence``, ``wear``, ``identifiers`` or ``odometer`` says, in a line."""
    if table == "evidence":
        return f"{row.text('subject')}: {row.text('item')}, ratio {row.text('lr')}"
    if table == "wear":
        return f"{row.text('part')}: {row.text('item')}, {row.text('wear_mm')} mm worn"
    if table == "identifiers":
        return f"{row.text('kind')}, {row.text('where')}: {row.text('text_as_read')}"
    return " ".join(
        (f"{row.text('date')}:", row.text("reading"), row.text("unit"), f"({row.text('source')})")
    )


def aside_words(car: CarFolder, table: str) -> list[str]:
    """Rows of the table that do not count, each with its reason."""
    return [
        f"Does not count: {row_words(table, row)}; {standing_words(row)}."
        for row in car.sheet(table)
        if not counts(row)
    ]


def aside_json(car: CarFolder, table: str) -> list[dict[str, str]]:
    """The same rows as the JSON of ``asfound history`` lists statements that do not count."""
    return [
        {
            "name": row_words(table, row),
            "standing": row.text("standing"),
            "why": row.text("standing_why"),
        }
        for row in car.sheet(table)
        if not counts(row)
    ]
