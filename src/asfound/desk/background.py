"""Work behind a page: begun once, watched as it goes, stopped by whoever asks.

A worker does it; where none runs, the answer itself does, as long as it takes.
"""

from __future__ import annotations

from typing import Any

from django_tasks.base import Task

from asfound.record.background import STOPPED, ask, do_here, is_anybody_working, standing, stop

__all__ = ["begin", "done", "ended", "runs", "stop"]


def runs(key: str) -> bool:
    """Whether the work of that name is being done or waits for a worker that lives."""
    return standing(key).state in ("waiting", "running") and is_anybody_working()


def done(key: str) -> float:
    """Share of the work that is done, 0-1."""
    return standing(key).done or 0.0


def ended(key: str, *, stopped: str = STOPPED) -> str:
    """Why the work ended without a result; empty when it did not.

    ``stopped`` is what is said after somebody stopped it.
    """
    words = standing(key).words
    return stopped if words == STOPPED else words


def begin(key: str, work: Task[Any, Any], **more: Any) -> None:
    """Ask a worker for the work, or do it here where no worker lives."""
    if is_anybody_working():
        ask(work, key=key, **more)
    else:
        do_here(work, key=key, **more)
