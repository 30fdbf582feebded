"""Where workers say that they live, and the queue of those who share a cache.

Notes
-----
A result is left in the cache, so that only a worker with the same cache may take the work: the
queue is named by a file in it. A worker holds a draft there as long as it lives; the operating
system lets go of it when the worker is killed, which is how the others know.
"""

from __future__ import annotations

import secrets
from contextlib import suppress
from pathlib import Path

from django.conf import settings

from asfound.record.draft import draft_file, is_anything_held, is_held


def workers_folder() -> Path:
    """Folder in which each living worker holds a draft."""
    return Path(settings.ASFOUND_HOME) / "cache" / "workers"


def is_anybody_working() -> bool:
    """Whether a worker lives that would take work of this queue."""
    return is_anything_held(workers_folder())


def is_living(worker: str) -> bool:
    """Whether the worker of that name lives."""
    return is_held(workers_folder() / worker)


def queue_name() -> str:
    """Name of the queue of this cache; made at first."""
    place = workers_folder() / "queue"
    if not place.exists():
        with draft_file(place.parent) as (draft, sink):
            sink.write(secrets.token_hex(8).encode())
            sink.flush()
            with suppress(FileExistsError):  # another process was quicker: its name counts
                place.hardlink_to(draft)
    return place.read_text(encoding="utf-8")
