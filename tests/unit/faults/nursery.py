"""Programs begun from one that has everything imported already, so that each begins at once."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[3]
_PARENT = """
import json, os, pkgutil, select, signal, sys, traceback
import asfound.no_room, scipy.stats, psycopg
import django.contrib.auth.hashers, django.core.handlers.wsgi, django.db.migrations.executor
import django.forms, django.template.loader
from asfound.__main__ import COMMANDS
for _, command in COMMANDS.values():
    pkgutil.resolve_name(command)

def child(job):
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a run in the background ignores it
    os.environ.clear()
    os.environ.update(job["env"])
    assert "asfound.settings" not in sys.modules
    for number, name in ((0, os.devnull), (1, job["place"] + ".out"), (2, job["place"] + ".err")):
        os.dup2(os.open(name, os.O_RDWR | os.O_CREAT), number)
    sys.argv = ["-c", *job["words"]]
    code = 0
    try:
        exec(compile(job["code"], "<a program of the test>", "exec"), {"__name__": "__main__"})
    except SystemExit as left:
        code = left.code or 0
    except BaseException:
        traceback.print_exc()
        code = 1
    sys.stdout.flush()
    os._exit(code)

places = {}
print("ready", flush=True)
while True:
    if select.select([0], [], [], 0.01)[0]:
        line = os.read(0, 1 << 20)
        if not line:
            break
        job = json.loads(line)
        pid = os.fork()
        if not pid:
            child(job)
        places[pid] = job["place"]
        print(pid, flush=True)
    ended, status = os.waitpid(-1, os.WNOHANG) if places else (0, 0)
    if ended:
        with open(places.pop(ended) + ".code", "w") as file:
            file.write(f"{os.waitstatus_to_exitcode(status)}.")
"""


@dataclass(frozen=True, slots=True)
class Started:
    """A program that was begun; what it says goes to files."""

    pid: int
    place: Path

    @property
    def out(self) -> str:
        """What it printed."""
        return self.place.with_suffix(".out").read_text(encoding="utf-8")

    @property
    def err(self) -> str:
        """What it said beside."""
        return self.place.with_suffix(".err").read_text(encoding="utf-8")

    @property
    def returncode(self) -> int | None:
        """How it ended; a signal counts below zero."""
        told = self.place.with_suffix(".code")
        code = told.read_text(encoding="utf-8") if told.exists() else ""
        return int(code[:-1]) if code.endswith(".") else None

    def signal(self, number: int) -> None:
        """Send it a signal, unless it has ended."""
        if self.returncode is None:
            os.kill(self.pid, number)

    def ended(self) -> int:
        """How it ended, once it has."""
        until = time.monotonic() + 60
        while (code := self.returncode) is None:
            assert time.monotonic() < until, f"it does not end: {self.err}"
            time.sleep(0.01)
        return code

    def wait_for(self, words: str) -> re.Match[str]:
        """What it says beside, once the words are in it."""
        until = time.monotonic() + 60
        while not (found := re.search(words, self.err)):
            assert self.returncode is None, self.err
            assert time.monotonic() < until, f"it does not say {words}: {self.err}"
            time.sleep(0.01)
        return found


class Nursery:
    """The parent of the programs; it ends with the tests."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.begun = folder, 0
        # Without Django's settings: each program reads those of its own home.
        env = {name: value for name, value in os.environ.items() if "DJANGO" not in name}
        self.parent = subprocess.Popen(
            [sys.executable, "-c", _PARENT],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**env, "PYTHONPATH": f"{ROOT / 'src'}:{ROOT}"},
            cwd=ROOT,
            text=True,
        )
        assert self._told() == "ready"

    def _told(self) -> str:
        assert self.parent.stdout is not None
        return self.parent.stdout.readline().strip()

    def start(self, code: str, *words: str, env: dict[str, str]) -> Started:
        """Begin a program with the words as its arguments."""
        self.begun += 1
        place = self.folder / f"{self.begun:03d}"
        for ending in (".out", ".err"):
            place.with_suffix(ending).touch()
        job = {"code": code, "words": words, "env": env, "place": str(place)}
        assert self.parent.stdin is not None
        self.parent.stdin.write(json.dumps(job) + "\n")
        self.parent.stdin.flush()
        return Started(int(self._told()), place)

    def close(self) -> None:
        """End the parent."""
        self.parent.communicate()
