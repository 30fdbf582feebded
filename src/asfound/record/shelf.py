"""Bytes of files, on a shelf ordered by their SHA-256: one content, one place."""

from __future__ import annotations

import hashlib
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Protocol

from django.conf import settings

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


def shelve(stream: IO[bytes]) -> Shelved:
    """Put the bytes on the shelf.

    A file appears whole or not at all: it is written beside its place, flushed to the disk and
    renamed. Bytes whose transaction fails later stay; they are found again by their hash.
    """
    folder = _folder()
    folder.mkdir(parents=True, exist_ok=True)
    digest, size = hashlib.sha256(), 0
    descriptor, draft = tempfile.mkstemp(dir=folder, prefix=".draft-")
    try:
        with os.fdopen(descriptor, "wb") as sink:
            while block := stream.read(_BLOCK_BYTES):
                digest.update(block)
                size += len(block)
                sink.write(block)
            sink.flush()
            os.fsync(sink.fileno())
        place = place_of(digest.hexdigest())
        place.parent.mkdir(exist_ok=True)
        os.replace(draft, place)
    except BaseException:
        Path(draft).unlink(missing_ok=True)
        raise
    return Shelved(sha256=digest.hexdigest(), size=size)


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
    if len(sha256) != 64 or not set(sha256) <= set("0123456789abcdef"):
        raise ValueError(f"not a SHA-256: {sha256!r}")
    return _folder() / sha256[:2] / sha256[2:]


def _folder() -> Path:
    return Path(settings.ASFOUND_HOME) / "files"
