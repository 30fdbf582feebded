"""Results kept under the hash of what they were computed from, each computed once."""

from __future__ import annotations

import functools
import hashlib
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

from django.conf import settings
from django.core.cache import cache

import asfound
from asfound.record.as_files import canonical_json
from asfound.record.folder import CarFolder

_CORE = ("base", "craft", "measure", "weigh", "choose", "plan", "record/convert", "record/evidence")

_T = TypeVar("_T")
_guard = threading.Lock()
_locks: dict[str, tuple[threading.Lock, int]] = {}


def key_of(name: str, folder: CarFolder, tables: tuple[str, ...], **more: Any) -> str:
    """Name under which a result is kept."""
    return f"{name}:{inputs_hash(folder, tables, name=name, **more)}"


def inputs_hash(folder: CarFolder, tables: tuple[str, ...], **more: Any) -> str:
    """SHA-256 over the tables, what else is named, and the program that computes from them."""
    used = {
        table: [sheet.columns, sheet.rows]
        for table in tables
        if (sheet := folder.sheets.get(table)) is not None
    }
    told = {"program": _program(), "tables": used, "more": _plain(more)}
    return hashlib.sha256(canonical_json(told)).hexdigest()


def kept(key: str, compute: Callable[[], _T]) -> _T:
    """Result from the cache, or computed; without Django set up there is no cache."""
    if not settings.configured:
        return compute()
    with _lock_of(key):
        found: _T | None = cache.get(key)
        if found is None:
            found = compute()
            cache.set(key, found)
    return found


@contextmanager
def _lock_of(key: str) -> Iterator[None]:
    """One thread computes; others that want the same wait for it instead of doing it again."""
    with _guard:
        lock, waiting = _locks.get(key, (threading.Lock(), 0))
        _locks[key] = lock, waiting + 1
    try:
        with lock:
            yield
    finally:
        with _guard:
            lock, waiting = _locks.pop(key)
            if waiting > 1:
                _locks[key] = lock, waiting - 1


@functools.cache
def _program() -> str:
    """SHA-256 over the source of the core: what another version computed is not this one's."""
    root = Path(asfound.__file__).parent
    sources = sorted(p for room in _CORE for p in (root / room).rglob("*.py"))
    return hashlib.sha256(b"".join(path.read_bytes() for path in sources)).hexdigest()


def _plain(content: Any) -> Any:
    """Read-only mappings as dictionaries, which JSON can write."""
    if hasattr(content, "items"):
        return {key: _plain(value) for key, value in content.items()}
    return content
