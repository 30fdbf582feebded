"""What is being written: held as long as its writer lives, taken away once the writer is dead."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from django.core.files import locks

PREFIX = ".draft-"


@contextmanager
def draft_file(folder: Path) -> Iterator[tuple[Path, IO[bytes]]]:
    """File beside its place, open to be written; it is gone at the end unless it was renamed.

    Notes
    -----
    A lock of the operating system lies on it until then. The system itself lifts it from a
    process that was killed, which is how ``clear_abandoned`` tells what nobody writes any more.
    """
    folder.mkdir(parents=True, exist_ok=True)
    descriptor, path = _held(lambda: tempfile.mkstemp(dir=folder, prefix=PREFIX))
    try:
        with os.fdopen(descriptor, "w+b") as sink:
            yield path, sink
    finally:
        path.unlink(missing_ok=True)


@contextmanager
def draft_folder(folder: Path) -> Iterator[Path]:
    """Folder of one's own, held like a file; it is gone at the end unless it was renamed."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    descriptor, path = _held(lambda: _made_folder(folder))
    try:
        yield path
    finally:
        shutil.rmtree(path, ignore_errors=True)
        os.close(descriptor)


def put_in_place(draft: Path, place: Path, *, open_file: IO[bytes]) -> None:
    """Draft under its name, whole and on the disk, or not at all."""
    open_file.flush()
    os.fsync(open_file.fileno())
    new_folder = not place.parent.exists()
    place.parent.mkdir(parents=True, exist_ok=True)
    os.replace(draft, place)
    sync_folder(place.parent)
    if new_folder:
        sync_folder(place.parent.parent)


def sync_folder(folder: Path) -> None:
    """Names in the folder on the disk, so that a pulled plug does not take the last one back."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def clear_abandoned(folder: Path) -> int:
    """Drafts in the folder that nobody writes any more taken away; how many there were."""
    cleared = 0
    for path in _drafts(folder):
        if not is_held(path):
            shutil.rmtree(path, ignore_errors=True) if path.is_dir() else path.unlink(True)
            cleared += 1
    return cleared


def is_anything_held(folder: Path) -> bool:
    """Whether a living process holds a draft in the folder."""
    return any(is_held(path) for path in _drafts(folder))


def _drafts(folder: Path) -> list[Path]:
    return list(folder.glob(f"{PREFIX}*"))


def _made_folder(folder: Path) -> tuple[int, str]:
    made = tempfile.mkdtemp(dir=folder, prefix=PREFIX)
    return os.open(made, os.O_RDONLY), made


def _held(make: Callable[[], tuple[int, str]]) -> tuple[int, Path]:
    """Locked draft; made again should it have been cleared before the lock was on it."""
    while True:
        descriptor, name = make()
        locks.lock(descriptor, locks.LOCK_EX)
        if Path(name).exists():
            return descriptor, Path(name)
        os.close(descriptor)


def is_held(path: Path) -> bool:
    """Whether a living process holds that draft."""
    try:
        descriptor = os.open(path, os.O_RDONLY)
    except FileNotFoundError:
        return False
    try:
        return not locks.lock(descriptor, locks.LOCK_EX | locks.LOCK_NB)
    finally:
        os.close(descriptor)
