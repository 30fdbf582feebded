"""The kind of job that a task is, so that jobs can be held against others of their kind."""

from __future__ import annotations

from asfound.record.folder import Row


def kind_of(row: Row) -> str:
    """Kind of job of a row of ``tasks``: as written there, else as the task's name tells it."""
    return row.text("kind") or kind_named(row.text("task"))


def kind_named(task: str) -> str:
    """Kind of job, as tasks made from the decisions and the strip order name it; else empty.

    Examples
    --------
    >>> kind_named("left sill: patch (fabricator)"), kind_named("seat: off"), kind_named("T01")
    ('patch', 'off', '')
    """
    _, between, kind = task.rpartition(": ")
    return kind.partition(" (")[0].strip() if between else ""
