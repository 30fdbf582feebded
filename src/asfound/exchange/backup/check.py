"""Whether every file of a backup is what its manifest says."""

from __future__ import annotations

import gzip
import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from asfound.exchange.backup.store import MANIFEST, Backup, Store
from asfound.record.faults import Fault, InputFaultsError

Look = Callable[[Path, str], bool]
"""Reads the file at a path; whether it has that hash."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """Every file of a backup, looked at: how many, and which of the kept files are damaged."""

    files_n: int
    damaged: tuple[str, ...]


def check_files(
    store: Store, backup: Backup, *, look: Look, progress: Callable[[float], None] | None = None
) -> Checked:
    """Files of the backup, each read whole and held against its hash.

    Raises
    ------
    InputFaultsError
        If the manifest or a table is not what it was: nothing can be restored from it then.
    """
    check_manifest(store, backup)
    files_n, damaged, broken = 0, list[str](), list[Fault]()
    all_n = backup.files_n + len(backup.rows)
    for number, (sha256, path) in enumerate(_lines(store, backup), 1):
        is_kept = path.parts[0] == "files"
        files_n += is_kept
        if not look(store.folder / path, sha256):
            damaged.append(sha256) if is_kept else broken.append(_fault(path))
        if progress is not None:
            progress(number / all_n)
    if broken:
        raise InputFaultsError(tuple(broken))
    return Checked(files_n=files_n, damaged=tuple(damaged))


def check_manifest(store: Store, backup: Backup) -> None:
    """Refuse a backup whose manifest is not the one that was written with it.

    Raises
    ------
    InputFaultsError
        If its hash is another, naming the file.
    """
    path = store.backups / backup.name / MANIFEST
    if not has_hash(path, backup.manifest_sha256):
        raise InputFaultsError((_fault(path.relative_to(store.folder)),))


def has_hash(path: Path, sha256: str) -> bool:
    """Whether the file is there, can be read, and has that SHA-256."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest() == sha256
    except OSError:
        return False


def _lines(store: Store, backup: Backup) -> Iterator[tuple[str, Path]]:
    try:
        for sha256, path in store.manifest(backup):
            if path.is_absolute() or ".." in path.parts:
                raise InputFaultsError((_fault(path, "it names a place outside the backup"),))
            yield sha256, path
    except (OSError, EOFError, UnicodeDecodeError, gzip.BadGzipFile) as error:
        raise InputFaultsError((_fault(Path(MANIFEST), str(error)),)) from error


def _fault(path: Path, rule: str = "it is missing or is not what was written") -> Fault:
    return Fault(file=str(path), rule=rule, remedy="Take another backup, or another copy of it.")
