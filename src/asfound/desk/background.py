"""Work behind a page: begun once, watched as it goes, stopped by whoever asks.

A worker does it where one runs; otherwise a thread of the pages' own process.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import Any

from django.core.cache import cache
from django_tasks.base import Task

from asfound.base import AsfoundError, StoppedError
from asfound.record.background import ask, is_anybody_working, standing
from asfound.record.background import stop as tell_worker

SILENT_S = 120.0
"""Work that told nothing for so long has ended with its process and may begin anew."""


def runs(key: str) -> bool:
    """Whether the work of that name is being done."""
    told = cache.get(f"{key}:progress")
    if told is not None and time.time() - told["at"] < SILENT_S:
        return True
    return standing(key).state in ("waiting", "running") and is_anybody_working()


def done(key: str) -> float:
    """Share of the work that is done, 0-1."""
    told = cache.get(f"{key}:progress")
    return float(told["done"]) if told else standing(key).done or 0.0


def ended(key: str) -> str:
    """Why the work ended without a result; empty when it did not."""
    return str(cache.get(f"{key}:ended", "")) or standing(key).words


def begin_beside(key: str, work: Task[Any, Any], **more: Any) -> bool:
    """Ask a worker for the work; whether there is one."""
    if not is_anybody_working():
        return False
    ask(work, key=key, **more)
    return True


def begin(
    key: str,
    do: Callable[[Callable[[float], None]], object],
    *,
    stopped: str = "Stopped; nothing was kept.",
) -> threading.Thread:
    """Begin the work; ``do`` is called with what it tells its progress to.

    ``stopped`` is what :func:`ended` says after somebody stopped it.
    """
    cache.delete(f"{key}:stop")
    cache.delete(f"{key}:ended")
    _tell(key, 0.0)
    thread = threading.Thread(target=_work, args=(key, do, stopped), daemon=True)
    thread.start()
    return thread


def stop(key: str) -> None:
    """Ask the work to stop at its next step."""
    tell_worker(key)
    cache.set(f"{key}:stop", True, SILENT_S)


def _work(key: str, do: Callable[[Callable[[float], None]], object], stopped: str) -> None:
    def progress(share: float) -> None:
        if cache.get(f"{key}:stop"):
            raise StoppedError
        _tell(key, share)

    try:
        do(progress)
    except StoppedError:
        cache.set(f"{key}:ended", stopped, SILENT_S)
    except AsfoundError as error:
        cache.set(f"{key}:ended", str(error), SILENT_S)
    finally:
        cache.delete(f"{key}:progress")


def _tell(key: str, share: float) -> None:
    cache.set(f"{key}:progress", {"done": share, "at": time.time()}, SILENT_S)
