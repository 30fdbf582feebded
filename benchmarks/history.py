"""How long a large history takes: its windows, its clashes, its likely days.

Run: python -m benchmarks.history [--events 2000] [--links 6000] [--seed 0] [--months]
"""

from __future__ import annotations

import argparse
import random
import time
from collections.abc import Callable, Iterator
from itertools import chain
from typing import TypeVar

import networkx as nx
import numpy as np

from asfound.weigh.dates import Event, History, Link, at_least, at_most, day_number, read_history
from asfound.weigh.dates.draw import DRAWS, draw
from asfound.weigh.dates.finite import closed_parts
from asfound.weigh.dates.posterior import LEVELS
from asfound.weigh.dates.tight import Windows, tightest

_T = TypeVar("_T")
_YEAR = 365


def make_history(
    seed: int, events_n: int, links_n: int, *, months: bool, false_n: int = 0
) -> History:
    """An invented history that holds, but for ``false_n`` links that are off by a lifetime."""
    draw_from = random.Random(seed)
    base = day_number(year=1930)
    happened = {f"e{i}": base + draw_from.randint(0, 90 * _YEAR) for i in range(events_n)}
    events = tuple(_event(draw_from, name, day) for name, day in happened.items())
    links = (_link(draw_from, i, happened, months, i < false_n) for i in range(links_n))
    return History(events=events, links=tuple(links))


def _event(draw_from: random.Random, name: str, day: int) -> Event:
    first = day - draw_from.randint(0, 30 * _YEAR) if draw_from.random() < 0.8 else None
    last = day + draw_from.randint(0, 30 * _YEAR) if draw_from.random() < 0.8 else None
    return Event(event=name, first=first, last=last)


def _link(
    draw_from: random.Random, i: int, happened: dict[str, int], months: bool, false: bool
) -> Link:
    start, end = draw_from.sample(list(happened), 2)
    apart = happened[end] - happened[start] + (90 * _YEAR if false else 0)
    least = apart - draw_from.randint(40, 900)
    most = apart + draw_from.randint(40, 900)
    both = draw_from.random()
    in_months = months and draw_from.random() < 0.5
    unit, days = ("month", 30.436875) if in_months else ("day", 1)
    return Link(
        link=f"k{i}",
        start=start,
        end=end,
        least=at_least(least // days, unit=unit) if both < 0.8 else None,
        most=at_most(-(-most // days), unit=unit) if both > 0.2 else None,
    )


def timed(what: str, work: Callable[[], _T]) -> tuple[_T, float]:
    """Result and seconds of the processor, printed beside those of the clock."""
    clock, processor = time.perf_counter(), time.process_time()
    result = work()
    taken = time.process_time() - processor
    print(f"{what:44s}{taken:8.2f} s, by the clock {time.perf_counter() - clock:.2f} s")
    return result, taken


def bellman_ford(history: History) -> dict[str, int]:
    """First days as distances from day 0, by the reference library; links of days alone."""
    graph = nx.DiGraph()
    far = 1_000_000
    for start, end, least in chain(_windows(history, far), _distances(history)):
        old = graph.get_edge_data(start, end, {"weight": -least})["weight"]
        graph.add_edge(start, end, weight=min(-least, old))
    found = nx.single_source_bellman_ford_path_length(graph, "")
    return {name: -days for name, days in found.items() if -days > -far // 2}


def _windows(history: History, far: int) -> Iterator[tuple[str, str, int]]:
    for event in history.events:
        yield "", event.event, -far if event.first is None else event.first
        if event.last is not None:
            yield event.event, "", -event.last


def _distances(history: History) -> Iterator[tuple[str, str, int]]:
    for link in history.links:
        if link.least is not None:
            yield link.start, link.end, link.least.days
        if link.most is not None:
            yield link.end, link.start, -link.most.days


def main() -> None:
    """Print what was timed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--events", type=int, default=2000)
    parser.add_argument("--links", type=int, default=6000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--months", action="store_true", help="half of the links in months")
    asked = parser.parse_args()
    history = make_history(asked.seed, asked.events, asked.links, months=asked.months)
    print(f"{asked.events} events, {asked.links} links")
    windows, ours = timed("tightest windows", lambda: tightest(history.events, history.links))
    assert isinstance(windows, Windows)
    if not asked.months:
        firsts, theirs = timed("first days by networkx", lambda: bellman_ford(history))
        assert {n: d for n, d in firsts.items() if n} == windows.firsts
        print(f"{'networkx takes, for first days alone':44s}{theirs / ours:8.2f} of ours for both")
    timed("the whole reading", lambda: read_history(history, seed=asked.seed))
    false = make_history(asked.seed, asked.events, asked.links, months=asked.months, false_n=3)
    reading, _ = timed("the same with three false links", lambda: read_history(false))
    all_of_them = "all of them" if reading.all_clashes_found else "there may be more"
    print(f"{'clashes found':44s}{len(reading.clashes):8d}, {all_of_them}")
    _draws(asked.seed, asked.months)


def _draws(seed: int, months: bool) -> None:
    history = make_history(seed, 200, 600, months=months)
    windows = tightest(history.events, history.links)
    assert isinstance(windows, Windows)
    part = max(closed_parts(windows, history.links), key=lambda p: len(p.events))
    drawn, _ = timed(
        f"{DRAWS} draws of {len(part.events)} events, {len(part.links)} links",
        lambda: draw(part, levels=LEVELS, rng=np.random.default_rng(seed)),
    )
    worst = max(map(max, drawn.u_days))
    width = max(part.widths)
    print(f"{'largest standard error, of widest window':44s}{worst:8.1f} of {width} days")


if __name__ == "__main__":
    main()
