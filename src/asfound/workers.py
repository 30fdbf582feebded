"""Workers as children of the program that serves: begun anew when they end, ended with it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import IO, NoReturn

import click

from asfound import site

AGAIN_S = 1.0
"""How long a worker that ended is waited for before the next begins."""

option = click.option(
    "--workers",
    "workers_n",
    type=click.IntRange(0, 64),
    default=1,
    show_default=True,
    help="Processes beside the pages for work that takes long.",
)


@contextmanager
def beside(number: int) -> Iterator[None]:
    """So many workers until the end of the block; one that ends or is killed is begun anew.

    Notes
    -----
    Each worker reads from a pipe into which nobody writes. However this process ends, the system
    closes its end of the pipe, and the worker ends. While one is begun anew, work waits for it: who
    keeps workers holds a place among them.
    """
    with _place(number):
        yield from _kept(number)


def _kept(number: int) -> Iterator[None]:
    over = threading.Event()
    keepers = [threading.Thread(target=_keep_one, args=(over,), daemon=True) for _ in range(number)]
    for keeper in keepers:
        keeper.start()
    try:
        yield
    finally:
        over.set()
        for keeper in keepers:
            keeper.join()


def _place(number: int) -> AbstractContextManager[object]:
    from asfound.record.background.place import workers_folder  # noqa: PLC0415 - after setup
    from asfound.record.draft import draft_file  # noqa: PLC0415

    return draft_file(workers_folder()) if number else nullcontext()


def wait() -> NoReturn:
    """Until Ctrl-C."""
    while True:
        signal.pause()


def _keep_one(over: threading.Event) -> None:
    while not over.is_set():
        with subprocess.Popen(_COMMAND, stdin=subprocess.PIPE, env=_surroundings()) as worker:  # noqa: S603 - our own words
            while worker.poll() is None and not over.wait(0.1):
                pass
            if over.is_set():
                worker.kill()  # what it was at is taken up again by the next
        over.wait(AGAIN_S)


_COMMAND = (sys.executable, "-m", "asfound", "worker", "--beside")


def _surroundings() -> dict[str, str]:
    """Surroundings in which the same program is found."""
    root = str(Path(__file__).parents[1])
    paths = filter(None, (root, os.environ.get("PYTHONPATH")))
    return {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}


def work_beside() -> NoReturn:
    """Work, in a worker's own process, until whoever began it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's, which ends this one
    threading.Thread(target=_end_with_parent, args=(sys.stdin.buffer,), daemon=True).start()
    from asfound.record.background.worker import work_until_ended  # noqa: PLC0415 - after setup

    with site.at_work():
        work_until_ended()


def _end_with_parent(pipe: IO[bytes]) -> None:
    pipe.read()
    os._exit(0)
