"""Ctrl-C that takes the best so far instead of nothing."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from types import FrameType

from asfound.base import EnoughError
from asfound.cli.app import say
from asfound.cli.show import progress


@dataclass(frozen=True, slots=True, kw_only=True)
class Watched:
    """Work that somebody watches.

    Parameters
    ----------
    show : callable or None
        Told the share that is done.
    asked : Event
        Set when the best so far is asked for.
    """

    show: Callable[[float], None] | None
    asked: threading.Event = field(default_factory=threading.Event)

    def __call__(self, done: float) -> None:
        """Tell the share that is done; raise ``EnoughError`` where the best so far is taken."""
        if self.show:
            self.show(done)
        if self.asked.is_set():
            raise EnoughError


@contextmanager
def best_at_interrupt(label: str, what: str) -> Iterator[Watched]:
    """Progress of a work that gives its best so far at the first Ctrl-C; the next one ends it."""
    watched = Watched(show=progress(label))
    if threading.current_thread() is not threading.main_thread():
        yield watched  # signals are heard in the main thread alone
        return
    before = signal.getsignal(signal.SIGINT)

    def hear(number: int, frame: FrameType | None) -> None:
        signal.signal(signal.SIGINT, before)
        watched.asked.set()
        say(f"\nstopping with {what} so far; Ctrl-C again ends without it")

    signal.signal(signal.SIGINT, hear)
    try:
        yield watched
    finally:
        signal.signal(signal.SIGINT, before)
