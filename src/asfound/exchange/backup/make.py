"""Making a backup while people work."""

from __future__ import annotations

import gzip
import hashlib
import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Any

from django.apps import apps as installed
from django.conf import settings
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from asfound import __version__
from asfound.base import InputError
from asfound.exchange.backup.rows import tables, write_rows
from asfound.exchange.backup.snapshot import one_moment
from asfound.exchange.backup.store import MANIFEST, TABLES, TELLS, Backup, Store, open_store
from asfound.record.draft import (
    clear_abandoned,
    draft_file,
    draft_folder,
    put_in_place,
    sync_folder,
)
from asfound.record.log import Chain, check_chain
from asfound.record.models import Dossier, KeptFile, Photo, SalvagePhoto
from asfound.record.shelf import copy_hashed, on_shelf, place_in_shelf, place_of, shelf_folder

Progress = Callable[[str, float], None]


@dataclass(slots=True, kw_only=True)
class _Made:
    """What is known of the backup while it is made."""

    manifest: list[tuple[str, str]] = field(default_factory=list)
    rows: dict[str, int] = field(default_factory=dict)
    damaged: list[str] = field(default_factory=list)
    files_bytes: int = 0
    new_files_n: int = 0
    new_bytes: int = 0


def back_up(target: Path, *, progress: Progress | None = None) -> Backup:
    """Backup of the whole record, whole or not there at all.

    Parameters
    ----------
    target : Path
        Folder of backups; begun if it is new or empty. Files that an earlier backup put there
        are not copied again.
    progress : callable, optional
        Is told what is done and its share, 0–1; raise in it to stop.

    Raises
    ------
    InputError
        If the folder holds something else, or lies in the home of the record.

    Notes
    -----
    The tables are read in one transaction, so that they are of one moment. Files are put on the
    shelf before a row names them and never taken away, so that whatever that moment names can be
    copied after it.
    """
    home = Path(settings.ASFOUND_HOME)
    if target.absolute().is_relative_to(home.absolute()):
        raise InputError(
            field="target",
            got=str(target),
            allowed=f"outside the home of the record ({home})",
            remedy="Best on another disk.",
        )
    store = open_store(target, make=True)
    for folder in (store.backups, store.files):
        folder.mkdir(mode=0o700, exist_ok=True)
        clear_abandoned(folder)
    tell = progress or (lambda what, done: None)
    made = _Made()
    with draft_folder(store.backups) as draft:
        name = _free_name(store)
        with one_moment():
            chain, named = check_chain(), _named_files()
            migrations = tuple(_migrations())
            _write_tables(draft, name, made, tell)
        _copy_files(store, made, tell)
        backup = _told(name, made, chain, named, migrations, _write_manifest(draft, made))
        _write(draft / TELLS, [json.dumps(backup.as_json(), indent=1).encode() + b"\n"])
        sync_folder(draft)
        os.replace(draft, store.backups / name)
        sync_folder(store.backups)
    return backup


def _told(
    name: str,
    made: _Made,
    chain: Chain,
    named: set[str],
    migrations: tuple[str, ...],
    manifest_sha256: str,
) -> Backup:
    there = {path.removeprefix("files/").replace("/", "") for _, path in made.manifest}
    return Backup(
        name=name,
        program=__version__,
        database=connection.vendor,
        migrations=migrations,
        rows=made.rows,
        log_lines_n=chain.lines_n,
        log_head=chain.head,
        log_broken_line=None if chain.broken is None else chain.broken.pk,
        files_n=len(made.manifest) - len(made.rows),
        files_bytes=made.files_bytes,
        new_files_n=made.new_files_n,
        new_bytes=made.new_bytes,
        damaged=tuple(made.damaged),
        missing=tuple(sorted(named - there - set(made.damaged))),
        manifest_sha256=manifest_sha256,
    )


def _free_name(store: Store) -> str:
    """Time of now, to which a number is added should there be a backup of this second already."""
    now = datetime.now(UTC).strftime("%Y-%m-%dT%H%M%SZ")
    taken, name, number = set(store.names()), now, 1
    while name in taken:
        number += 1
        name = f"{now}-{number}"
    return name


def _migrations() -> Iterator[str]:
    applied = MigrationRecorder(connection).applied_migrations()
    return (f"{app}.{name}" for app, name in sorted(applied))


def _named_files() -> set[str]:
    """Hashes of every file that a row of the record names."""
    named: set[str] = set()
    models: tuple[Any, ...] = (KeptFile, Photo, Dossier, SalvagePhoto)
    for model in models:
        named |= set(model._base_manager.values_list("sha256", flat=True).iterator())
    return named - {""}


def _write_tables(draft: Path, name: str, made: _Made, tell: Progress) -> None:
    (draft / TABLES).mkdir()
    models = tables(installed)
    all_n = sum(model._base_manager.count() for model in models) or 1
    done = 0
    for model in models:
        table = model._meta.db_table
        made.rows[table] = 0
        path = draft / TABLES / f"{table}.jsonl.gz"
        with path.open("w+b") as file:
            with gzip.GzipFile("", "wb", 6, file, mtime=0) as packed:
                for count in write_rows(model, packed):  # type: ignore[arg-type]  # it has write()
                    made.rows[table] += count
                    done += count
                    tell("tables", done / all_n)
            made.manifest.append((_finished(file), f"backups/{name}/{TABLES}/{path.name}"))
    sync_folder(draft / TABLES)


def _finished(file: IO[bytes]) -> str:
    """SHA-256 of a file that is whole, once it is on the disk."""
    file.flush()
    os.fsync(file.fileno())
    file.seek(0)
    return hashlib.file_digest(file, "sha256").hexdigest()  # type: ignore[arg-type]  # a plain file


def _copy_files(store: Store, made: _Made, tell: Progress) -> None:
    shelf = list(on_shelf(shelf_folder()))
    there = dict(on_shelf(store.files))
    all_bytes = sum(size for _, size in shelf) or 1
    done = 0
    for sha256, size in shelf:
        if there.get(sha256) == size or _copy(store, sha256, made):
            made.manifest.append((sha256, f"files/{place_in_shelf(sha256)}"))
            made.files_bytes += size
        else:
            made.damaged.append(sha256)
        done += size
        tell("files", done / all_bytes)


def _copy(store: Store, sha256: str, made: _Made) -> bool:
    """Whether the file was what its name says, and is in the store now."""
    with place_of(sha256).open("rb") as source, draft_file(store.files) as (draft, sink):
        got, size = copy_hashed(source, sink)
        if got != sha256:
            return False
        put_in_place(draft, store.files / place_in_shelf(sha256), open_file=sink)
    made.new_files_n += 1
    made.new_bytes += size
    return True


def _write_manifest(draft: Path, made: _Made) -> str:
    lines = (f"{sha256}  {path}\n".encode() for sha256, path in made.manifest)
    return _write(draft / MANIFEST, lines, packed=True)


def _write(path: Path, lines: Any, *, packed: bool = False) -> str:
    """Write a file to the disk; its SHA-256."""
    with path.open("w+b") as file:
        if packed:
            with gzip.GzipFile("", "wb", 6, file, mtime=0) as sink:
                sink.writelines(lines)
        else:
            file.writelines(lines)
        return _finished(file)
