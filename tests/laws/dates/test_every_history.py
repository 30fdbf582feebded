"""Windows, shares and clashes against a look at every history there is."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from asfound.base import InputError
from asfound.weigh.dates import Event, History, Link, Step, day_number, read_history

LEVELS = (0.05, 0.5, 0.95)
JANUARY = day_number(year=1960, month=1, day=27)


@st.composite
def links_between(draw: st.DrawFn, events_n: int, *, months: bool) -> tuple[Link, ...]:
    links = []
    for i in range(draw(st.integers(1, 5))):
        start = draw(st.integers(0, events_n - 1))
        end = (start + draw(st.integers(1, events_n - 1))) % events_n
        whole = draw(st.integers(-2, 2)) if months and draw(st.booleans()) else 0
        days = draw(st.integers(-5, 5))
        more = Step(months=whole, days=days + draw(st.integers(0, 4)))
        try:
            link = Link(
                link=f"k{i}",
                start=f"e{start}",
                end=f"e{end}",
                least=draw(st.sampled_from((None, Step(months=whole, days=days)))),
                most=draw(st.sampled_from((None, more))),
            )
        except InputError:
            continue
        links.append(link)
    return tuple(links)


@st.composite
def histories(draw: st.DrawFn, *, months: bool) -> History:
    events_n = draw(st.integers(2, 3 if months else 4))
    offsets = (0, 3, 31, 34, 62) if months else (0, 1, 2, 4, 6)
    events = []
    for i in range(events_n):
        first = JANUARY + draw(st.sampled_from(offsets))
        last = first + draw(st.integers(0, 7))
        events.append(Event(event=f"e{i}", first=first, last=last))
    return History(events=tuple(events), links=draw(links_between(events_n, months=months)))


def all_histories(events: Iterable[Event], links: Iterable[Link]) -> list[dict[str, int]]:
    windows = {e.event: range(e.first or 0, (e.last or 0) + 1) for e in events}
    every = (dict(zip(windows, days, strict=True)) for days in itertools.product(*windows.values()))
    return [days for days in every if all(holds(link, days) for link in links)]


def holds(link: Link, days: dict[str, int]) -> bool:
    start, end = days[link.start], days[link.end]
    least = link.least is None or end >= link.least.ahead(start)
    return least and (link.most is None or end <= link.most.ahead(start))


@settings(max_examples=70, deadline=None)
@given(st.booleans().flatmap(lambda months: histories(months=months)))
def test_windows_and_shares_are_those_of_all_histories(history: History) -> None:
    every, reading = all_histories(history.events, history.links), read_history(history)
    assert reading.consistent == bool(every)
    assume(every)
    for dated in reading.events:
        days = sorted(found[dated.event] for found in every)
        assert (dated.first, dated.last) == (days[0], days[-1])
        passed = [days[math.ceil(level * len(days) - 1e-9) - 1] for level in LEVELS]
        assert dated.likely is not None
        assert dated.likely.how == "counted"
        assert [dated.likely.p05, dated.likely.p50, dated.likely.p95] == passed


@settings(max_examples=50, deadline=None)
@given(histories(months=False))
def test_clashes_are_all_the_smallest_sets_that_allow_no_history(history: History) -> None:
    reading = read_history(history)
    found = {
        frozenset({("event", e) for e in clash.events} | {("link", k) for k in clash.links})
        for clash in reading.clashes
    }
    assert found == smallest_clashes(history)
    assert reading.all_clashes_found
    sizes = [len(clash.names) for clash in reading.clashes]
    assert sizes == sorted(sizes)


def smallest_clashes(history: History) -> set[frozenset[tuple[str, str]]]:
    """By trying every set of statements, the small ones first."""
    said = [("event", e.event) for e in history.events]
    said += [("link", link.link) for link in history.links]
    clashes: set[frozenset[tuple[str, str]]] = set()
    for size in range(1, len(said) + 1):
        for chosen in map(frozenset, itertools.combinations(said, size)):
            if any(clash <= chosen for clash in clashes):
                continue
            if negative_circle(history, chosen):
                clashes.add(chosen)
    return clashes


def negative_circle(history: History, said: frozenset[tuple[str, str]]) -> bool:
    """Floyd and Warshall's distances over the statements said, "" being day 0."""
    names = ["", *(e.event for e in history.events)]
    far = {(a, b): 0.0 if a == b else math.inf for a in names for b in names}

    def at_most(start: str, end: str, days: int) -> None:
        far[start, end] = min(far[start, end], days)

    for event in history.events:
        if ("event", event.event) in said:
            at_most("", event.event, event.last or 0)
            at_most(event.event, "", -(event.first or 0))
    for link in history.links:
        if ("link", link.link) in said:
            if link.most is not None:
                at_most(link.start, link.end, link.most.days)
            if link.least is not None:
                at_most(link.end, link.start, -link.least.days)
    for by, a, b in itertools.product(names, repeat=3):
        far[a, b] = min(far[a, b], far[a, by] + far[by, b])
    return any(far[name, name] < 0 for name in names)


@settings(max_examples=40, deadline=None)
@given(histories(months=True))
def test_the_order_in_which_things_are_said_does_not_matter(history: History) -> None:
    turned = History(events=history.events[::-1], links=history.links[::-1])
    one, other = read_history(history), read_history(turned)
    assert one.clashes == other.clashes
    assert {d.event: d for d in one.events} == {d.event: d for d in other.events}


@settings(max_examples=40, deadline=None)
@given(histories(months=True))
def test_one_more_statement_never_widens_a_window(history: History) -> None:
    fewer = replace(history, links=history.links[:-1])
    with_all, without = read_history(history), read_history(fewer)
    assume(with_all.consistent)
    assert without.consistent
    for one, other in zip(with_all.events, without.events, strict=True):
        assert None not in (one.first, one.last, other.first, other.last)
        assert other.first <= one.first <= one.last <= other.last  # type: ignore[operator]


@pytest.mark.parametrize("months", [-14, -1, 1, 2, 11, 12, 30])
def test_two_ways_back_of_a_step(months: int) -> None:
    step = Step(months=months, days=-3)
    for day in range(JANUARY, JANUARY + 800):
        assert step.ahead(day) <= step.ahead(day + 1)
        first, last = step.least_reaching(day), step.last_within(day)
        assert step.ahead(first - 1) < day <= step.ahead(first)
        assert step.ahead(last) <= day < step.ahead(last + 1)
        fewest, most = step.shifts()
        assert fewest <= step.ahead(day) - day <= most
