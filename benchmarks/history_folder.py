"""How long ``asfound history`` takes on a large car folder, as a whole command.

Run: python -m benchmarks.history_folder [--events 2000] [--links 6000] [--seed 0] [--out FOLDER]
"""

from __future__ import annotations

import argparse
import csv
import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

from asfound.weigh.dates import History, Step, iso_day
from history import make_history


def write_history(history: History, folder: Path) -> None:
    """An invented history as ``events.csv`` and ``event_links.csv``."""
    _write(
        folder / "events.csv",
        ("event", "not_before", "not_after"),
        ((e.event, _day(e.first), _day(e.last)) for e in history.events),
    )
    _write(
        folder / "event_links.csv",
        ("id", "from", "to", "min", "max", "unit"),
        (
            (link.link, link.start, link.end, _days(link.least), _days(link.most), "day")
            for link in history.links
        ),
    )


def _write(path: Path, head: tuple[str, ...], rows: Iterable[tuple[object, ...]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *rows])


def _day(day: int | None) -> str:
    return "" if day is None else iso_day(day)


def _days(step: Step | None) -> str:
    return "" if step is None else str(step.days)


def run(*arguments: str) -> tuple[bytes, float, float]:
    """Output of a command of asfound, its seconds of the processor, and those of the clock."""
    before, clock = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    command = [sys.executable, "-m", "asfound", *arguments]
    output = subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout
    after, taken = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter() - clock
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return output, processor, taken


def main() -> None:
    """Print what was timed: the least of three runs, since other work disturbs upwards only."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--events", type=int, default=2000)
    parser.add_argument("--links", type=int, default=6000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--out", type=Path, help="keep the folder there")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as made:
        folder = asked.out or Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        write_history(make_history(asked.seed, asked.events, asked.links, months=False), folder)
        whole = min((run("history", str(folder), "--json") for _ in range(3)), key=lambda r: r[1])
        start = min((run("--help") for _ in range(3)), key=lambda r: r[1])
    told = json.loads(whole[0])
    print(f"{len(told['events'])} events, {asked.links} links, {len(told['conflicts'])} clashes")
    for what, (_, processor, clock) in {
        "the whole command": whole,
        "the help alone": start,
    }.items():
        print(f"{what:44s}{processor:8.2f} s, by the clock {clock:.2f} s")
    print(f"{'the help takes, of the whole':44s}{start[1] / whole[1]:8.0%}")


if __name__ == "__main__":
    main()
