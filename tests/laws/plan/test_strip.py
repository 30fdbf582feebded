"""The way to a piece is lawful and has the least risk; the sequence takes off all that can."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from asfound.base import NoSolutionError
from asfound.plan.strip import Assembly, Joint, Piece, rebuild_order, rings_of, way_to

NAMES = [f"P{i}" for i in range(7)]
SOME = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def assemblies(draw: st.DrawFn) -> Assembly:
    pieces = tuple(
        Piece(piece=n, significance=draw(st.integers(0, 5)), fragile=draw(st.integers(0, 5)))
        for n in NAMES
    )
    pairs = [(a, b) for a in NAMES for b in NAMES if a != b]
    chosen = draw(st.lists(st.sampled_from(pairs), min_size=3, max_size=14, unique=True))
    ways = draw(st.lists(st.sampled_from(["", "u", "v"]), min_size=14, max_size=14))
    joints = tuple(Joint(piece=a, after=b, way=w) for (a, b), w in zip(chosen, ways, strict=False))
    return Assembly(pieces=pieces, joints=joints)


def gets_off(assembly: Assembly, among: set[str], gone: frozenset[str] = frozenset()) -> set[str]:
    """What is off when only these may be taken off, asked of the joints one by one."""
    off = set(gone)
    while True:
        free = {n for n in among - off if _free(assembly, n, off)}
        if not free:
            return off
        off |= free


def _free(assembly: Assembly, name: str, off: set[str]) -> bool:
    own = [j for j in assembly.joints if j.piece == name]
    ways = {j.way for j in own if j.way}
    by_way = [all(j.after in off for j in own if j.way == way) for way in ways]
    return all(j.after in off for j in own if not j.way) and (not ways or any(by_way))


@SOME
@given(assemblies(), st.sampled_from(NAMES))
def test_no_set_of_removals_has_less_risk(assembly: Assembly, piece: str) -> None:
    risks = [
        sum(assembly.named[n].risk for n in several)
        for count in range(len(NAMES))
        for several in combinations([n for n in NAMES if n != piece], count)
        if piece in gets_off(assembly, {*several, piece})
    ]
    if not risks:
        with pytest.raises(NoSolutionError, match="wait for each other"):
            way_to(assembly, piece)
        return
    found = way_to(assembly, piece)
    assert found.proved
    assert found.risk == pytest.approx(min(risks))
    off: set[str] = set()
    for name in (*found.first_off, piece):
        assert _free(assembly, name, off)
        off.add(name)


@SOME
@given(assemblies())
def test_the_sequence_takes_off_all_that_can_and_names_a_ring(assembly: Assembly) -> None:
    off: set[str] = set()
    for name in assembly.sequence:
        assert _free(assembly, name, off)
        off.add(name)
    assert off == gets_off(assembly, set(NAMES))
    if len(off) < len(NAMES):
        ring = assembly.ring
        for piece, waits in zip(ring, (*ring[1:], ring[0]), strict=True):
            assert any(j.piece == piece and j.after == waits for j in assembly.joints)
    else:
        assert assembly.ring == ()


@SOME
@given(assemblies())
def test_what_came_off_last_can_go_on_first(assembly: Assembly) -> None:
    if assembly.stuck:
        return
    built = rebuild_order(assembly)
    assert sorted(built.sequence) == sorted(NAMES)
    assert not built.ring
    place = {name: i for i, name in enumerate(built.sequence)}
    for joint in assembly.joints:
        if not joint.way:
            assert place[joint.piece] < place[joint.after]


@SOME
@given(assemblies(), st.permutations(NAMES), st.integers(0, 7))
def test_whatever_goes_on_next_all_is_on_in_the_end(
    assembly: Assembly, turns: list[str], off_n: int
) -> None:
    if assembly.stuck:
        return
    benches = {NAMES[0]: "bench"}  # of one piece, so that it makes no ring
    built = rebuild_order(assembly, benches=benches)
    off = set(NAMES[:off_n])
    while off:
        free = {n for n in built.still_off(off) if not built.waits_for(n, off)}
        assert free, "with pieces off and no ring one of them can go on"
        (turn, *_) = [n for n in turns if benches.get(n, n) in free]
        for joint in assembly.joints:
            if not joint.way and joint.after == turn:  # it holds or hides the other
                assert joint.piece not in off
        off -= set(built.pieces_of(benches.get(turn, turn)))


@SOME
@given(assemblies(), st.integers(0, 6))
def test_what_is_off_already_neither_counts_nor_comes_off_again(
    assembly: Assembly, off_n: int
) -> None:
    off = frozenset(NAMES[:off_n])  # whatever the joints said: it is off
    assert all(way_to(assembly, piece, off=off).first_off == () for piece in off)
    left = assembly.sequence_from(off)
    assert set(left) == gets_off(assembly, set(NAMES), off) - off
    for piece in left[-2:]:
        rest = [n for n in NAMES if n != piece and n not in off]
        least = min(
            sum(assembly.named[n].risk for n in several)
            for count in range(len(rest) + 1)
            for several in combinations(rest, count)
            if piece in gets_off(assembly, {*several, piece}, off)
        )
        found = way_to(assembly, piece, off=off)
        assert not off & set(found.first_off)
        assert found.risk == pytest.approx(least)


@SOME
@given(assemblies())
def test_waves_take_off_at_once_all_that_is_free(assembly: Assembly) -> None:
    off: set[str] = set()
    for wave in assembly.waves():
        assert set(wave) == {n for n in NAMES if n not in off and _free(assembly, n, off)}
        off |= set(wave)
    assert off == set(assembly.sequence)


@SOME
@given(assemblies())
def test_without_the_joints_to_doubt_everything_comes_off(assembly: Assembly) -> None:
    rings = rings_of(assembly)
    assert bool(rings) == bool(assembly.stuck)
    for ring in rings:
        turned = (*ring.pieces[1:], ring.pieces[0])
        assert [(j.piece, j.after) for j in ring.joints] == list(
            zip(ring.pieces, turned, strict=True)
        )
        assert ring.doubt in ring.joints
        assert set(ring.joints) <= set(assembly.joints)
    doubted = {ring.doubt for ring in rings}
    left = tuple(j for j in assembly.joints if j not in doubted)
    assert Assembly(pieces=assembly.pieces, joints=left).stuck == ()
    if rings:  # the first row to doubt frees as many as it says, and no other row of it frees more
        first = rings[0]
        for joint in first.joints:
            others = tuple(j for j in assembly.joints if j != joint)
            got = gets_off(Assembly(pieces=assembly.pieces, joints=others), set(NAMES))
            freed = len(got) - len(gets_off(assembly, set(NAMES)))
            assert freed == first.frees_n if joint == first.doubt else freed <= first.frees_n
