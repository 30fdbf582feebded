"""What the database knows of its own contents, by which it chooses an index."""

from __future__ import annotations

from typing import Any

from django.apps import apps
from django.db import connection

from asfound.record.models.observed import Observed

_SAMPLED = 1_000
"""Rows of an index that SQLite looks at: with so few it takes milliseconds at any size."""
_AS_GROWN = 1_000_000


def refresh_statistics() -> None:
    """Let the database look at its contents anew.

    Notes
    -----
    SQLite does so only when it is told to. Without it, "superseded by none" is taken for the
    rarest of conditions, because the column is unique, while almost every row meets it. So that
    is written down as what it is in a record that has grown, and one that begins today is as
    quick in its third year. Connections opened later read what was noted. PostgreSQL looks by
    itself, but not at once after a restore.
    """
    with connection.cursor() as cursor:
        if connection.vendor != "sqlite":
            cursor.execute("ANALYZE")
            return
        cursor.execute(f"PRAGMA analysis_limit={_SAMPLED}")
        cursor.execute("ANALYZE")
        for model in apps.get_models():
            if issubclass(model, Observed):
                _note_as_grown(cursor, model._meta.db_table)


def _note_as_grown(cursor: Any, table: str) -> None:
    """Every row has the same nothing in ``superseded_by_id``."""
    cursor.execute(f"PRAGMA index_list({table})")
    for index in [row[1] for row in cursor.fetchall()]:
        cursor.execute(f"PRAGMA index_info({index})")
        if [row[2] for row in cursor.fetchall()] == ["superseded_by_id"]:
            cursor.execute("DELETE FROM sqlite_stat1 WHERE idx = %s", [index])
            cursor.execute(
                "INSERT INTO sqlite_stat1 (tbl, idx, stat) VALUES (%s, %s, %s)",
                [table, index, f"{_AS_GROWN} {_AS_GROWN}"],
            )
