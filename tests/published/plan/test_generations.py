"""Waves in which a car comes apart, held against the generations of a reference library."""

from __future__ import annotations

import random

import networkx
import pytest
from benchmarks.strip_car import strip_car

from asfound.plan.strip import Assembly, Joint, Piece
from asfound.record.convert.strip import strip_question


def graph_of(assembly: Assembly) -> networkx.DiGraph:
    graph = networkx.DiGraph()
    graph.add_nodes_from(assembly.named)
    graph.add_edges_from((joint.after, joint.piece) for joint in assembly.joints)
    return graph


@pytest.mark.source("networkx: topological_generations of a directed graph")
@pytest.mark.parametrize("seed", range(4))
def test_without_ways_the_waves_are_the_generations_of_the_graph(seed: int) -> None:
    draw = random.Random(seed)
    names = [f"P{i:03d}" for i in range(300)]
    pairs = {(names[i], names[draw.randrange(i)]) for i in range(1, 300) for _ in range(2)}
    assembly = Assembly(
        pieces=tuple(Piece(piece=name) for name in names),
        joints=tuple(Joint(piece=piece, after=first) for piece, first in sorted(pairs)),
    )
    expected = [set(several) for several in networkx.topological_generations(graph_of(assembly))]
    assert [set(wave) for wave in assembly.waves()] == expected


@pytest.mark.source("networkx: topological order and ancestors of a directed graph")
def test_the_invented_car_comes_apart_in_a_topological_order() -> None:
    whole = strip_question(strip_car()).assembly
    plain = Assembly(pieces=whole.pieces, joints=tuple(j for j in whole.joints if not j.way))
    graph = graph_of(plain)
    assert networkx.is_directed_acyclic_graph(graph)
    place = {name: i for i, name in enumerate(plain.sequence)}
    assert len(place) == graph.number_of_nodes()
    assert all(place[first] < place[piece] for first, piece in graph.edges)
    for name in plain.named:
        assert set(plain.behind(name)) - {name} == networkx.ancestors(graph, name)
