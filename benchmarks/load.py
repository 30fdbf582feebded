"""How long the server takes while eight people work in a record of full size.

Run with ``python -m benchmarks.load [--seconds 60] [--pause 1.5] [--cars 40] [--home FOLDER]``;
with ``DATABASE_URL`` it works on that PostgreSQL database, empty or built by it before.
The record is invented: 40 cars, each with 3,000 parts, 10,000 rows of photographs, their moves and
findings. ``asfound serve`` runs as it does for a workshop; eight people with browsers of their own
search as they type, enter, move and scan parts, look at lists, sheets and photographs, and send
some, with pauses as people make them. Told are the milliseconds that the program needed for an
answer within the server, waiting for the other threads included, those of them that it computed
(CPU of its thread), and those that the browser waited. What else the machine does counts in all but
the second. ``--pause 0`` leaves the pauses out, which no eight people can do.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
from benchmarks.load_people import Answer, Person, at_work
from benchmarks.load_record import CARS, PEOPLE, build, photograph

TARGET_MS = 150
_TIMED_SERVER = """
import sys, time
from django.core import wsgi
plain = wsgi.get_wsgi_application
def timed():
    app = plain()
    def answer(environ, start_response):
        begun, cpu, told = time.perf_counter(), time.thread_time(), []
        def begin(status, headers, exc_info=None):
            told[:] = [status, headers]
        body = app(environ, begin)
        status, headers = told
        ms, cpu_ms = 1e3 * (time.perf_counter() - begun), 1e3 * (time.thread_time() - cpu)
        timing = f"app;dur={ms:.2f}, cpu;dur={cpu_ms:.2f}"
        start_response(status, [*headers, ("Server-Timing", timing)])
        return body
    return answer
wsgi.get_wsgi_application = timed
from asfound.__main__ import main
main()
"""


def main() -> None:
    """Builds the record, serves it, lets people work, prints the table."""
    asked = _asked()
    with tempfile.TemporaryDirectory(prefix="asfound-load-") as scratch:
        home = asked.home or Path(scratch) / "home"
        os.environ["ASFOUND_HOME"] = str(home)
        from asfound import site  # noqa: PLC0415 - reads the environment when imported

        site.setup()
        site.migrate()
        from django.db import connection  # noqa: PLC0415

        place = build(home / "load.json", cars=asked.cars)
        vendor = connection.vendor
        connection.close()
        draw = np.random.default_rng(5)
        photos = [photograph(draw, 1_600, 1_200) for _ in range(4)]
        with _served() as port:
            people = [Person(n, port, place, asked.pause, photos) for n in range(PEOPLE)]
            at_work([Person(0, port, place, 0, photos)], 5)  # what is read once is read
            began, slowed = os.getloadavg()[0], _slowed()
            answers = at_work(people, asked.seconds)
        print(f"{vendor}, {asked.cars} cars, {PEOPLE} people, {asked.seconds:.0f} s", end=", ")
        print(f"pauses of {asked.pause} s")
        print(
            f"load average {began:.1f} before, {os.getloadavg()[0]:.1f} after; computing took",
            end=" ",
        )
        print(f"{slowed:.1f} times as long as on a machine that does nothing else")
        print("\n".join(_table(answers, asked.seconds)))


def _slowed(lasts_s: float = 3) -> float:
    """Time that computing takes over the time that it computes: 1 where nobody else does."""
    begun, computed = time.perf_counter(), time.thread_time()
    while time.perf_counter() - begun < lasts_s:
        sum(range(10_000))
    return (time.perf_counter() - begun) / (time.thread_time() - computed)


def _asked() -> Any:
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--pause", type=float, default=1.5)
    parser.add_argument("--cars", type=int, default=CARS)
    parser.add_argument("--home", type=Path)
    return parser.parse_args()


@contextmanager
def _served() -> Iterator[int]:
    """Port of ``asfound serve`` in a process of its own, which says how long it worked."""
    server = subprocess.Popen(
        [sys.executable, "-c", _TIMED_SERVER, "serve", "--port", "0"],
        stderr=subprocess.PIPE,
        text=True,
    )
    assert server.stderr is not None
    told = server.stderr.readline()
    found = re.search(r":(\d+)/", told)
    assert found is not None, told + server.stderr.read()
    try:
        yield int(found[1])
    finally:
        server.terminate()
        server.wait(timeout=30)


def _table(answers: list[Answer], lasts_s: float) -> Iterator[str]:
    yield f"{'':24}{'answers':>8}{'server ms':>16}{'':8}{'computed ms':>16}{'browser ms':>16}"
    yield f"{'':24}{'':8}{'p50':>8}{'p95':>8}{'p99':>8}{'p50':>8}{'p95':>8}{'p50':>8}{'p95':>8}"
    for kind in sorted({answer.kind for answer in answers}):
        yield _line(kind, [answer for answer in answers if answer.kind == kind])
    yield _line("all", answers)
    refused = [f"{answer.kind} {answer.status}" for answer in answers if answer.status >= 400]
    named = ": " + ", ".join(sorted(set(refused))) if refused else ""
    yield f"{len(answers) / lasts_s:.1f} answers a second; {len(refused)} were refused{named}"
    p95 = float(np.percentile([answer.server_ms for answer in answers], 95))
    yield f"p95 of server time {p95:.0f} ms; target {TARGET_MS} ms, ratio {p95 / TARGET_MS:.2f}"


def _line(kind: str, answers: list[Answer]) -> str:
    server = np.percentile([answer.server_ms for answer in answers], (50, 95, 99))
    cpu = np.percentile([answer.cpu_ms for answer in answers], (50, 95))
    client = np.percentile([answer.client_ms for answer in answers], (50, 95))
    told = "".join(f"{ms:8.0f}" for ms in (*server, *cpu, *client))
    return f"{kind:24}{len(answers):8}{told}"


if __name__ == "__main__":
    main()
