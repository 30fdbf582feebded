"""Bytes of files, on a shelf ordered by their SHA-256: one content, one place."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Protocol

from django.conf import settings

from asfound.record.draft import PREFIX, draft_file, put_in_place

_BLOCK_BYTES = 1 << 20


class HasHash(Protocol):
    """Anything that names its content: a row of the record or of a car folder."""

    @property
    def sha256(self) -> str:
        """SHA-256 of the content."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelved:
    """What was put on the shelf."""

    sha256: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Bytes that lie beside the shelf, whole: looked at there, then put on it or let go."""

    path: Path
    shelved: Shelved
    open_file: IO[bytes]

    def keep(self) -> Shelved:
        """Put them on the shelf, flushed to the disk."""
        put_in_place(self.path, place_of(self.shelved.sha256), open_file=self.open_file)
        return self.shelved


@contextmanager
def beside_shelf(stream: IO[bytes]) -> Iterator[Beside]:
    """Bytes of the stream beside the shelf; they are gone at the end unless they were kept."""
    with draft_file(shelf_folder()) as (path, sink):
        digest, size = copy_hashed(stream, sink)
        sink.flush()
        yield Beside(path=path, shelved=Shelved(sha256=digest, size=size), open_file=sink)


def shelve(stream: IO[bytes]) -> Shelved:
    """Put the bytes on the shelf.

    A file appears whole or not at all: it is written beside its place, flushed to the disk and
    renamed. Bytes whose transaction fails later stay; they are found again by their hash.
    """
    with beside_shelf(stream) as beside:
        return beside.keep()


def copy_hashed(source: IO[bytes], sink: IO[bytes]) -> tuple[str, int]:
    """SHA-256 and number of the bytes that were copied."""
    digest, size = hashlib.sha256(), 0
    while block := source.read(_BLOCK_BYTES):
        digest.update(block)
        size += len(block)
        sink.write(block)
    return digest.hexdigest(), size


def open_kept_file(kept: HasHash) -> IO[bytes]:
    """Bytes of a kept file, to be read and closed.

    Raises
    ------
    FileNotFoundError
        If the shelf does not hold them.
    """
    return place_of(kept.sha256).open("rb")


def place_of(sha256: str) -> Path:
    """Where bytes of that hash lie."""
    return shelf_folder() / place_in_shelf(sha256)


def place_in_shelf(sha256: str) -> str:
    """Where bytes of that hash lie, from the shelf's own folder.

    Raises
    ------
    ValueError
        If it is no SHA-256 in small hexadecimal digits.
    """
    if len(sha256) != 64 or not set(sha256) <= set("0123456789abcdef"):
        raise ValueError(f"not a SHA-256: {sha256!r}")
    return f"{sha256[:2]}/{sha256[2:]}"


def on_shelf(folder: Path) -> Iterator[tuple[str, int]]:
    """Hash and size of everything on a shelf, in the order of the hashes."""
    if not folder.is_dir():
        return
    for inner in sorted(path for path in folder.iterdir() if path.is_dir()):
        with os.scandir(inner) as entries:
            for entry in sorted(entries, key=lambda one: one.name):
                if not entry.name.startswith(PREFIX):
                    yield inner.name + entry.name, entry.stat().st_size


def shelf_folder() -> Path:
    """Folder of the shelf."""
    return Path(settings.ASFOUND_HOME) / "files"
