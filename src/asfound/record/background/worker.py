"""The worker: takes what is asked for, and takes up again what a killed one left."""

from __future__ import annotations

import os
import sys
import threading
import time
from typing import Any, NoReturn

from django.core.cache import cache
from django.db import OperationalError, close_old_connections
from django_tasks.base import TaskResultStatus
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

from asfound.record.background.asking import STOPPED, gives_best_key, stop_key, tell_end
from asfound.record.background.place import is_living, queue_name, workers_folder
from asfound.record.draft import clear_abandoned, draft_file

LOOK_S = 0.3
STOP_S = 1.5
"""How long work may take to hear that it is to stop, before its worker ends with it."""
BEST_S = 180.0
"""How long work may take for that which gives its best so far."""
MOST_TRIES = 3
FAILED = "It ended its worker {n} times and was given up. The worker's own lines say why."


def work_until_ended() -> NoReturn:
    """Work as long as the process lives."""
    clear_abandoned(workers_folder())
    with draft_file(workers_folder()) as (held, _):
        while True:
            _work_off(held.name)
            time.sleep(LOOK_S)


def _work_off(name: str) -> None:
    """Everything that waits; a database that is busy is asked again."""
    close_old_connections()
    try:
        take_up_again()
        waiting = DBTaskResult.objects.ready().filter(queue_name=queue_name()).exists()
        if waiting:
            StoppableWorker(name).run()
    except OperationalError as error:
        sys.stderr.write(f"asfound worker: {error}; trying again\n")


def take_up_again() -> int:
    """Put back what a worker left that lives no more; how much there was."""
    left = DBTaskResult.objects.running().filter(queue_name=queue_name())
    return sum(_put_back(one) for one in left if not is_living(one.worker_ids[-1]))


def _put_back(left: DBTaskResult[Any, Any]) -> int:
    """Only one of several workers does it: the update asks for what was seen."""
    mine = DBTaskResult.objects.filter(
        pk=left.pk, status=TaskResultStatus.RUNNING, worker_ids=left.worker_ids
    )
    if len(left.worker_ids) < MOST_TRIES:
        return mine.update(status=TaskResultStatus.READY)
    words = FAILED.format(n=len(left.worker_ids))
    tell_end(left.args_kwargs["kwargs"]["key"], "failed", words)
    return mine.delete()[0]


class StoppableWorker(Worker):
    """The runner's worker over all that waits, whose work can be stopped wherever it is."""

    def __init__(self, name: str) -> None:
        super().__init__(
            queue_names=[queue_name()],
            interval=LOOK_S,
            batch=True,
            backend_name="default",
            startup_delay=False,
            max_tasks=None,
            worker_id=name,
            excluded_queue_names=[],
        )

    def take(self, asked: DBTaskResult[Any, Any]) -> None:
        """Claim one piece of work, whatever waits besides, and do it."""
        asked.claim(self.worker_id)
        self.run_task(asked)

    def run_task(self, db_task_result: DBTaskResult[Any, Any]) -> None:
        """Run one, watched; its row goes when it is done, its result lies in the cache."""
        ended = threading.Event()
        watching = threading.Thread(target=_watch, args=(db_task_result, ended), daemon=True)
        watching.start()
        super().run_task(db_task_result)
        ended.set()
        watching.join()
        if db_task_result.status == TaskResultStatus.SUCCESSFUL:
            db_task_result.delete()
        else:
            sys.stderr.write(db_task_result.traceback)


def _watch(running: DBTaskResult[Any, Any], ended: threading.Event) -> None:
    """A solver hears nothing while it works: the worker ends with it, and another begins."""
    key = running.args_kwargs["kwargs"]["key"]
    while not ended.wait(LOOK_S):
        if cache.get(stop_key(key)) and not ended.wait(_patience_s(key)):
            DBTaskResult.objects.filter(pk=running.pk).delete()
            tell_end(key, "stopped", STOPPED)
            os._exit(0)


def _patience_s(key: str) -> float:
    return BEST_S if cache.get(gives_best_key(key)) else STOP_S
