"""Work asked for, how far it is, and stopped."""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any, Literal

from django.core.cache import cache
from django.db import IntegrityError, transaction
from django_tasks.base import Task, TaskResultStatus
from django_tasks_db.models import DBTaskResult

from asfound.record.background.place import is_anybody_working, queue_name

KEPT_S = 600.0
"""How long it is known that work was stopped, or why it failed."""
STOPPED = "Stopped; nothing was kept."
Ending = Literal["stopped", "failed", "refused"]
_UNDER_WAY = (TaskResultStatus.READY, TaskResultStatus.RUNNING)
_given: ContextVar[uuid.UUID] = ContextVar("given")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """How work stands.

    Parameters
    ----------
    state : {"none", "waiting", "running", "stopped", "failed", "refused"}
        ``"refused"`` would be refused again; what has a result is looked up where that is kept.
    done : float or None
        Share that is done, where the work tells it.
    words : str
        Why it ended.
    is_ending : bool
        Whether it was stopped and makes the best so far ready.
    """

    state: Literal["none", "waiting", "running"] | Ending
    done: float | None = None
    words: str = ""
    is_ending: bool = False

    @property
    def is_under_way(self) -> bool:
        """Whether a worker is at it or will be."""
        return self.state in ("waiting", "running")


def begin(work: Task[Any, Any], *, key: str, **given: Any) -> None:
    """Ask a worker for the work, or do it here, as long as it takes, where no worker lives."""
    if is_anybody_working():
        ask(work, key=key, **given)
    else:
        _forget(key)
        work.call(key=key, **given)


def ask(work: Task[Any, Any], *, key: str, **more: Any) -> None:
    """Ask for the work, unless the same is under way.

    Parameters
    ----------
    work : Task
        Takes ``key`` and what else is given, which JSON can write.
    key : str
        Hash of the inputs: the same key is the same work.
    """
    job = id_of(key)
    try:
        with transaction.atomic():
            DBTaskResult.objects.filter(id=job).exclude(status__in=_UNDER_WAY).delete()
            if DBTaskResult.objects.filter(id=job).exists():
                return
            _forget(key)
            with _giving(job):
                work.using(queue_name=queue_name()).enqueue(key=key, **more)
    except IntegrityError:
        return  # somebody asked at the same moment


def standing(key: str) -> Asked:
    """How the work of that key stands; what nobody is left to do was never asked."""
    if not is_anybody_working():
        return cache.get(_ended_key(key)) or Asked(state="none")
    status = DBTaskResult.objects.filter(id=id_of(key)).values_list("status", flat=True).first()
    if status == TaskResultStatus.READY:
        return Asked(state="waiting")
    if status == TaskResultStatus.RUNNING:
        is_ending = bool(cache.get(stop_key(key)) and cache.get(gives_best_key(key)))
        return Asked(state="running", done=cache.get(progress_key(key)), is_ending=is_ending)
    return cache.get(_ended_key(key)) or Asked(state="none")


def tell_end(key: str, how: Ending, words: str) -> None:
    """Tell whoever asked why there is no result."""
    cache.set(_ended_key(key), Asked(state=how, words=words), KEPT_S)


def stop(key: str) -> None:
    """Let work that waits go, and tell a worker that is at it."""
    cache.set(stop_key(key), True, KEPT_S)
    waiting = DBTaskResult.objects.filter(id=id_of(key), status=TaskResultStatus.READY)
    if waiting.delete()[0]:
        tell_end(key, "stopped", STOPPED)


def given_id() -> uuid.UUID:
    """Identity of the work that is being asked for, as the settings name it to the runner."""
    return _given.get()


@contextmanager
def _giving(job: uuid.UUID) -> Iterator[None]:
    before = _given.set(job)
    try:
        yield
    finally:
        _given.reset(before)


def id_of(key: str) -> uuid.UUID:
    """Identity of the work of a key, which the database holds once."""
    return uuid.UUID(hashlib.sha256(key.encode()).hexdigest()[:32])


def progress_key(key: str) -> str:
    """Where the share that is done is told."""
    return f"{key}:share"


def stop_key(key: str) -> str:
    """Where it is told that the work is to stop."""
    return f"{key}:stop"


def gives_best_key(key: str) -> str:
    """Where work tells that it gives its best so far when it is to stop."""
    return f"{key}:gives-best"


def _forget(key: str) -> None:
    """What was told of the work when it was last asked for."""
    told = (stop_key, _ended_key, progress_key, gives_best_key)
    cache.delete_many([name(key) for name in told])


def _ended_key(key: str) -> str:
    return f"{key}:why-ended"
