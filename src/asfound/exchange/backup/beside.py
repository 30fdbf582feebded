"""A second database beside the one in use, which takes its place once it is whole."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, connection, transaction

from asfound.base import InputError
from asfound.record.draft import draft_folder, sync_folder

KEPT = "before-restore-"
"""How the old database is called that was taken out of use: a file or a schema."""
_NEW_SCHEMA = "asfound_restored"


@dataclass(frozen=True, slots=True)
class NewDatabase:
    """A database to be filled; ``use`` lets it take the place of the old one.

    ``use`` gives the name under which the old one is kept, empty if there was nothing in it.
    """

    is_old_kept: bool
    stamp: str
    draft: Path | None = None
    place: Path | None = None

    def use(self) -> str:
        """Take the place of the old database, at one stroke."""
        if self.draft is None or self.place is None:
            return self._use_schema()
        return self._use_file(self.draft, self.place)

    def _use_file(self, draft: Path, place: Path) -> str:
        """The old file keeps its bytes under another name before the new one takes its own."""
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        connection.close()
        kept = ""
        if place.exists():
            if self.is_old_kept:
                aside = place.with_name(f"{KEPT}{self.stamp}.sqlite3")
                os.link(place, aside)
                kept = str(aside)
            for ending in ("-wal", "-shm"):
                place.with_name(place.name + ending).unlink(missing_ok=True)
        os.replace(draft, place)
        sync_folder(place.parent)
        return kept

    def _use_schema(self) -> str:
        kept = f"{KEPT}{self.stamp}" if self.is_old_kept else ""
        with transaction.atomic(), connection.cursor() as cursor:
            if kept:
                cursor.execute(f'ALTER SCHEMA public RENAME TO "{kept}"')
            else:
                cursor.execute("DROP SCHEMA public CASCADE")
            cursor.execute(f"ALTER SCHEMA {_NEW_SCHEMA} RENAME TO public")
        return kept and f"schema {kept}"


@contextmanager
def new_database(*, is_old_kept: bool, stamp: str) -> Iterator[NewDatabase]:
    """The connection leads to an empty database within, and back to the one in use after it."""
    if connection.vendor == "postgresql":
        with _new_schema():
            yield NewDatabase(is_old_kept, stamp)
        return
    place = Path(connection.settings_dict["NAME"])
    with draft_folder(Path(settings.ASFOUND_HOME)) as folder:
        _settle_old_file(place)
        draft = folder / "db.sqlite3"
        connection.settings_dict["NAME"] = draft
        try:
            yield NewDatabase(is_old_kept, stamp, draft, place)
        finally:
            connection.close()
            connection.settings_dict["NAME"] = place


def _settle_old_file(place: Path) -> None:
    """What stands in the old file's WAL is written to the file itself, which is moved alone."""
    if place.exists():
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    wal = place.with_name(place.name + "-wal")
    if wal.exists() and wal.stat().st_size:
        raise InputError(
            field="the record",
            got="a database that another program has open",
            allowed="closed while it is replaced",
            remedy="End that program first.",
        )


@contextmanager
def _new_schema() -> Iterator[None]:
    """Tables are made and looked for in a schema of their own; a half-filled one is dropped."""
    try:
        with connection.cursor() as cursor:
            cursor.execute(f"DROP SCHEMA IF EXISTS {_NEW_SCHEMA} CASCADE")
            cursor.execute(f"CREATE SCHEMA {_NEW_SCHEMA}")
            cursor.execute(f"SET search_path TO {_NEW_SCHEMA}")
    except DatabaseError as error:
        raise InputError(
            field="database",
            got=str(error).strip(),
            allowed="one in which this user may make a schema",
            remedy="Let the user own the database: ALTER DATABASE … OWNER TO …",
        ) from error
    try:
        yield
    finally:
        connection.close()  # the path of the search ends with the connection
        with connection.cursor() as cursor:
            cursor.execute(f"DROP SCHEMA IF EXISTS {_NEW_SCHEMA} CASCADE")
