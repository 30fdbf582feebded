"""Windows, circles and orders against a reference library."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from asfound.weigh.dates import Event, History, Link, Step, read_history
from asfound.weigh.dates.order import order_of

SOURCE = "networkx: floyd_warshall, negative_edge_cycle, transitive_reduction"


def random_history(seed: int) -> History:
    draw = random.Random(seed)
    names = [f"e{i}" for i in range(draw.randint(3, 12))]
    events = []
    for name in names:
        first = draw.choice((None, draw.randint(0, 300)))
        last = draw.choice((None, (first or 0) + draw.randint(0, 300)))
        events.append(Event(event=name, first=first, last=last))
    links = []
    for i in range(draw.randint(2, 20)):
        start, end = draw.sample(names, 2)
        least = draw.randint(-150, 60)
        links.append(
            Link(
                link=f"k{i}",
                start=start,
                end=end,
                least=draw.choice((None, Step(days=least))),
                most=draw.choice((None, Step(days=least + draw.randint(0, 200)))),
            )
        )
    return History(events=tuple(events), links=tuple(links))


def as_graph(history: History) -> nx.DiGraph:
    """Edge i to j of weight w says that j lies at most w after i; "" is day 0."""
    graph = nx.DiGraph()
    graph.add_nodes_from(("", *(e.event for e in history.events)))

    def at_most(start: str, end: str, days: int) -> None:
        old = graph.get_edge_data(start, end, {"weight": days})["weight"]
        graph.add_edge(start, end, weight=min(days, old))

    for event in history.events:
        if event.last is not None:
            at_most("", event.event, event.last)
        if event.first is not None:
            at_most(event.event, "", -event.first)
    for link in history.links:
        if link.most is not None:
            at_most(link.start, link.end, link.most.days)
        if link.least is not None:
            at_most(link.end, link.start, -link.least.days)
    return graph


@pytest.mark.source(SOURCE)
def test_windows_and_consistency() -> None:
    seen = {True: 0, False: 0}
    for seed in range(150):
        history = random_history(seed)
        graph, reading = as_graph(history), read_history(history)
        seen[reading.consistent] += 1
        assert reading.consistent != nx.negative_edge_cycle(graph)
        if not reading.consistent:
            continue
        distances = nx.floyd_warshall(graph)
        for dated in reading.events:
            last, back = distances[""][dated.event], distances[dated.event][""]
            assert dated.last == (None if last == float("inf") else last)
            assert dated.first == (None if back == float("inf") else -back)
    assert min(seen.values()) > 20


@pytest.mark.source(SOURCE)
def test_order_without_redundant_links() -> None:
    for seed in range(40):
        draw = random.Random(seed)
        links = [
            Link(link=f"k{i}", start=f"e{a}", end=f"e{b}", least=Step())
            for i in range(30)
            for a, b in [sorted(draw.sample(range(12), 2))]
        ]
        order = order_of(links)
        graph = nx.DiGraph([(link.start, link.end) for link in links])
        ours = {(order.groups[below][0], order.groups[above][0]) for above, below in order.over}
        assert ours == set(nx.transitive_reduction(graph).edges)
        assert all(order.level[above] > order.level[below] for above, below in order.over)
