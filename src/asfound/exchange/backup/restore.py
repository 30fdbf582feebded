"""Bringing a record back from a backup."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from django.db import connection

from asfound import site
from asfound.base import InputError
from asfound.exchange.backup.beside import new_database
from asfound.exchange.backup.check import Checked, check_files, has_hash
from asfound.exchange.backup.make import Progress
from asfound.exchange.backup.refill import check_shape, refill
from asfound.exchange.backup.store import Backup, Store
from asfound.record.draft import clear_abandoned, draft_file, put_in_place
from asfound.record.models import Car, Entry, Person
from asfound.record.shelf import copy_hashed, place_in_shelf, shelf_folder


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What was brought back.

    ``damaged`` are hashes of files that the backup holds no longer as they were; ``kept`` names
    the database that was in use before, empty if nothing was in it.
    """

    backup: Backup
    files_n: int
    damaged: tuple[str, ...]
    kept: str


def check_backup(store: Store, *, name: str = "", progress: Progress | None = None) -> Checked:
    """Every file of the backup held against its hash; nothing is written.

    Raises
    ------
    InputError
        If there is no such backup.
    InputFaultsError
        If the manifest or a table is damaged.
    """
    return check_files(store, store.read(name), look=has_hash, progress=_told(progress, "checked"))


def restore(
    store: Store,
    *,
    name: str = "",
    replace: bool = False,
    without_damaged: bool = False,
    progress: Progress | None = None,
) -> Restored:
    """Record of the backup in this home, whole or not at all.

    Parameters
    ----------
    store : Store
    name : str
        Of the backup; the latest if empty.
    replace : bool
        Whether a record that is in the home already is taken out of use. It stays beside the
        new one.
    without_damaged : bool
        Whether photographs and other files that are damaged in the backup are left out; they
        refuse it otherwise.
    progress : callable, optional
        Is told what is done and its share, 0–1.

    Raises
    ------
    InputError
        If there is no such backup, the program is older than it, somebody works in the home, or
        the home holds a record and ``replace`` is false.
    InputFaultsError
        If something in it is not what it was.
    """
    backup = store.read(name)
    check_shape(backup)
    _check_nobody_works()
    holds = holds_record()
    if holds and not replace:
        raise InputError(
            field="home",
            got="one that holds a record already",
            allowed="empty",
            remedy="Name another home with ASFOUND_HOME, or say --replace: the record that is "
            "there is kept beside the new one.",
        )
    clear_abandoned(shelf_folder())
    checked = check_files(store, backup, look=_on_our_shelf, progress=_told(progress, "files"))
    if checked.damaged and not without_damaged:
        raise _damaged(checked.damaged)
    stamp = datetime.now(UTC).strftime("%Y-%m-%dT%H%M%SZ")
    with new_database(is_old_kept=holds, stamp=stamp) as new:
        refill(store, backup, progress=_told(progress, "tables"))
        kept = new.use()
    return Restored(
        backup=backup,
        files_n=checked.files_n - len(checked.damaged),
        damaged=checked.damaged,
        kept=kept,
    )


def holds_record() -> bool:
    """Whether the database in use holds a person, a car or a line of the log."""
    there = set(connection.introspection.table_names())
    connection.close()
    needed = [model for model in (Entry, Person, Car) if model._meta.db_table in there]
    return any(model._base_manager.exists() for model in needed)


def _check_nobody_works() -> None:
    if site.is_at_work():
        raise InputError(
            field="home",
            got="one in which asfound runs now",
            allowed="left alone while it is restored",
            remedy="End `asfound serve` first.",
        )


def _on_our_shelf(path: Path, sha256: str) -> bool:
    """Whether the file is what it says; a kept file is on our shelf then."""
    if path.parent.parent.name != "files":
        return has_hash(path, sha256)
    place = shelf_folder() / place_in_shelf(sha256)
    if has_hash(place, sha256):
        return True
    try:
        with path.open("rb") as source, draft_file(shelf_folder()) as (draft, sink):
            if copy_hashed(source, sink)[0] != sha256:
                return False
            put_in_place(draft, place, open_file=sink)
    except FileNotFoundError:
        return False
    return True


def _damaged(hashes: tuple[str, ...]) -> InputError:
    more = f" and {len(hashes) - 3} more" if len(hashes) > 3 else ""
    return InputError(
        field="files",
        got=f"{', '.join(hashes[:3])}{more}, which are damaged or gone",
        allowed="what their hashes say",
        remedy="Take another copy of the backup, or say --without-damaged to bring back the rest.",
    )


def _told(progress: Progress | None, what: str) -> Callable[[float], None]:
    return (lambda done: None) if progress is None else (lambda done: progress(what, done))
