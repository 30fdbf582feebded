"""Small tables written as text in the source, and rows that become sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from asfound.record.folder import Sheet

Rows = list[dict[str, str]]


def rows(text: str) -> Rows:
    """Rows of a table written with ``|`` between cells, the head first.

    Examples
    --------
    >>> rows('''part | mass_kg
    ... seat | 14''')
    [{'part': 'seat', 'mass_kg': '14'}]
    """
    lines = [[cell.strip() for cell in line.split("|")] for line in text.strip().splitlines()]
    head, *body = lines
    return [dict(zip(head, line, strict=True)) for line in body]


def sheet(table: Sequence[Mapping[str, str]]) -> Sheet:
    """Sheet of rows; the columns in the order first met, a missing cell empty."""
    columns = tuple(dict.fromkeys(name for row in table for name in row))
    return Sheet(
        columns=columns,
        rows=tuple(tuple(row.get(name, "") for name in columns) for row in table),
    )
