"""A worker killed in the middle: another takes its work up, which ends once.

The signal is SIGKILL, which leaves a process no time to say that it ends.
"""

from __future__ import annotations

import json
import os
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.unit.faults.homes import BEGIN, COMMAND, Home

pytestmark = pytest.mark.django_db

WORK = (
    BEGIN
    + """
import os, time
from django.core.cache import cache
from asfound.record.background import works, worker
def slow(folder, **more):
    with open(os.environ["ASFOUND_HOME"] + "/began", "a") as file:
        file.write(f"{os.getpid()}\\n")
    if sys.argv[1] == "slow":
        time.sleep(60)
    cache.set("the-key", "made")
works.plan_result = slow
worker.work_until_ended()
"""
)
"""A worker whose plan takes a minute, or none."""
ASK = (
    BEGIN
    + """
from asfound.record.background import works
from asfound.record.background.asking import ask
for _ in range(int(sys.argv[1])):
    ask(works.make_plan, key="the-key", car=sys.argv[2], start="")
"""
)
TELL = (
    BEGIN
    + """
from django.core.cache import cache
from django_tasks_db.models import DBTaskResult
from asfound.record.background import is_anybody_working, standing
rows = [[one.status, len(one.worker_ids)] for one in DBTaskResult.objects.all()]
print(json.dumps({"made": cache.get("the-key"), "rows": rows, "alive": is_anybody_working(),
    "state": standing("the-key").state, "words": standing("the-key").words}))
"""
)


def told(home: Home) -> dict:
    return json.loads(home.python(TELL))


def begun(home: Home) -> list[int]:
    place = home.folder / "began"
    return [int(line) for line in place.read_text().split()] if place.exists() else []


def wait_until(is_so: Callable[[], object]) -> None:
    until = time.monotonic() + 30
    while not is_so():
        assert time.monotonic() < until, "it did not come to that"
        time.sleep(0.05)


def test_work_of_a_killed_worker_is_taken_up_and_ends_once(new_home: Callable[..., Home]) -> None:
    home = new_home()
    home.python(ASK, "3", home.told["car"])
    assert told(home)["rows"] == [["READY", 0]], "the same work is asked for once"
    first = home.start(WORK, "slow")
    wait_until(lambda: len(begun(home)) == 1)
    home.python(ASK, "1", home.told["car"])
    assert told(home)["rows"] == [["RUNNING", 1]]
    first.signal(signal.SIGKILL)
    assert first.ended() == -9
    left = told(home)
    assert (left["rows"], left["alive"]) == ([["RUNNING", 1]], False)
    others = [home.start(WORK, "quick") for _ in range(2)]
    wait_until(lambda: told(home)["made"] == "made" and not told(home)["rows"])
    assert len(begun(home)) == 2, "once by the killed one, once by one of the others"
    for other in others:
        other.signal(signal.SIGKILL)
        other.ended()


def test_work_that_kills_every_worker_is_given_up(new_home: Callable[..., Home]) -> None:
    home = new_home()
    home.python(ASK, "1", home.told["car"])
    for n in range(1, 4):
        doomed = home.start(WORK, "slow")
        wait_until(lambda n=n: len(begun(home)) == n)
        doomed.signal(signal.SIGKILL)
        doomed.ended()
    last = home.start(WORK, "quick")
    wait_until(lambda: not told(home)["rows"])
    last.signal(signal.SIGKILL)
    last.ended()
    assert len(begun(home)) == 3
    assert "ended its worker 3 times" in told(home)["words"]


def test_work_is_stopped_even_where_it_does_not_listen(new_home: Callable[..., Home]) -> None:
    home = new_home()
    home.python(ASK, "1", home.told["car"])
    at_it = home.start(WORK, "slow")
    wait_until(lambda: begun(home))
    home.python(BEGIN + "from asfound.record.background import stop; stop('the-key')")
    assert at_it.ended() == 0
    after = told(home)
    assert (after["rows"], after["made"]) == ([], None)
    assert after["words"] == "Stopped; nothing was kept."


def test_workers_end_with_what_began_them_and_one_that_is_killed_is_begun_anew(
    new_home: Callable[..., Home],
) -> None:
    home = new_home()
    home.python(ASK, "1", home.told["car"])
    ends = {signal.SIGINT: "worker", signal.SIGTERM: "serve", signal.SIGKILL: "serve"}
    for end, command in ends.items():
        began = home.start(COMMAND, command, *(("--port", "0") if command == "serve" else ()))
        began.wait_for("Ctrl-C ends it")
        wait_until(lambda pid=began.pid: children_of(pid))
        (first,) = children_of(began.pid)
        if command == "worker":
            wait_until(lambda: not told(home)["rows"])
        if end == signal.SIGTERM:
            os.kill(first, signal.SIGKILL)
            assert told(home)["alive"], "work waits for the worker that is begun anew"
            wait_until(lambda pid=began.pid, was=first: children_of(pid) not in ([], [was]))
            (first,) = children_of(began.pid)
        began.signal(end)
        began.ended()
        wait_until(lambda child=first: not Path(f"/proc/{child}").exists())


def children_of(pid: int) -> list[int]:
    """Living children of a process, as the system lists them."""
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            words = status.read_text().rpartition(")")[2].split()
        except (FileNotFoundError, ProcessLookupError):
            continue
        if int(words[1]) == pid and words[0] != "Z":
            found.append(int(status.parent.name))
    return found
