"""What stands before a piece, held against a reference library for graphs."""

from __future__ import annotations

import random

import networkx
import pytest

from asfound.plan.strip import Assembly, Joint, Piece, rebuild_order, way_to


@pytest.mark.source("networkx: ancestors, find_cycle, topological order of a directed graph")
@pytest.mark.parametrize("seed", range(4))
def test_without_ways_the_way_to_a_piece_is_all_that_stands_before_it(seed: int) -> None:
    draw = random.Random(seed)
    names = [f"P{i:02d}" for i in range(60)]
    pairs = {(names[i], names[draw.randrange(i)]) for i in range(1, 60) for _ in range(2)}
    graph = networkx.DiGraph((first, piece) for piece, first in pairs)
    assembly = Assembly(
        pieces=tuple(Piece(piece=n, significance=draw.randint(0, 5)) for n in names),
        joints=tuple(Joint(piece=piece, after=first) for piece, first in sorted(pairs)),
    )
    for piece in draw.sample(names, 5):
        found = way_to(assembly, piece)
        assert set(found.first_off) == networkx.ancestors(graph, piece)
        assert found.proved
    back = rebuild_order(assembly).sequence
    place = {name: i for i, name in enumerate(back)}
    assert all(place[piece] < place[first] for piece, first in pairs)
    turned = Assembly(
        pieces=assembly.pieces, joints=(*assembly.joints, Joint(piece="P00", after="P59"))
    )
    graph.add_edge("P59", "P00")
    assert networkx.find_cycle(graph)
    ring = turned.ring
    assert all(graph.has_edge(b, a) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
