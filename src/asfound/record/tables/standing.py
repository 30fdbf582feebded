"""How a person stands to a row: it counts, or it stays and does not count, with a reason."""

from __future__ import annotations

from asfound.record.tables.form import Column, text

STANDINGS = ("holds", "doubted", "withdrawn")
"""How a person stands to a statement; one that is doubted or withdrawn does not count."""


def standing_columns() -> tuple[Column, ...]:
    """Columns of a table whose rows can be doubted or withdrawn one by one."""
    return text("standing", words=STANDINGS), text("standing_why")
