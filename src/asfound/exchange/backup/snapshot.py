"""One moment of the database, read while others write."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def one_moment() -> Iterator[None]:
    """Every read within sees the database as it was at the first; nobody's write waits.

    Notes
    -----
    PostgreSQL reads one snapshot under REPEATABLE READ. SQLite does so in any transaction that
    only reads, as long as it is begun without taking the turn to write, and with WAL the writers
    go on beside it.
    """
    if connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
        return
    with connection.cursor() as cursor:
        cursor.execute("BEGIN DEFERRED")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("ROLLBACK")
