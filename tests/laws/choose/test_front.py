"""The front holds every choice that nothing beats, and no other."""

from __future__ import annotations

import itertools

import pytest
from tests.laws.choose.cases import feasible, make_problem

from asfound.base import InputError, NoSolutionError
from asfound.choose import Problem, choose, front

COST = frozenset({"cost"})


def whole_front(problem: Problem, *, ignore: frozenset[str] = COST) -> list[tuple[float, float]]:
    """Cost and kept of every choice that no other beats, the limit of cost lifted."""
    seen = sorted((s.cost, -s.kept) for s in feasible(problem, ignore=ignore))
    found: list[tuple[float, float]] = []
    best = None
    for cost, minus_kept in seen:
        if best is None or minus_kept < best:
            found.append((float(cost), float(-minus_kept)))
            best = minus_kept
    return found


@pytest.mark.parametrize("block", range(5))
def test_front_is_the_whole_front(block: int) -> None:
    seen = 0
    for i in range(12):
        problem = make_problem(20_000 + block * 100 + i, tight=1.0, calm=i % 2 == 0)
        expected = whole_front(problem)
        if not expected:
            with pytest.raises(NoSolutionError):
                front(problem)
            continue
        got = front(problem)
        assert got.exact
        assert got.gap == 0
        assert [(p.cost, p.kept) for p in got.points] == expected
        limit = problem.brief.cost_max
        assert [p.within_brief for p in got.points] == [
            limit is None or p.cost <= limit for p in got.points
        ]
        seen += len(expected) > 2
    assert seen


@pytest.mark.parametrize("points", [None, 4])
def test_front_within_the_brief_ends_at_the_choice(points: int | None) -> None:
    cut = 0
    for i in range(24):
        problem = make_problem(40_000 + i, tight=0.8, calm=i % 2 == 0)
        expected = whole_front(problem, ignore=frozenset())
        if not expected:
            with pytest.raises(NoSolutionError):
                front(problem, within_brief=True)
            continue
        got = front(problem, points=points, within_brief=True)
        found = [(p.cost, p.kept) for p in got.points]
        assert found == expected if points is None else set(found) <= set(expected)
        assert (found[0], found[-1]) == (expected[0], expected[-1])
        chosen = choose(problem)
        assert found[-1] == (chosen.cost, chosen.kept)
        cut += expected != whole_front(problem)
    assert cut


@pytest.mark.parametrize("points", [2, 3, 5])
def test_some_points_keep_both_ends_and_are_of_the_front(points: int) -> None:
    for i in range(12):
        problem = make_problem(30_000 + i, tight=1.0, calm=i % 2 == 0)
        expected = whole_front(problem)
        if not expected:
            continue
        got = [(p.cost, p.kept) for p in front(problem, points=points).points]
        assert set(got) <= set(expected)
        assert len(got) == min(points, len(expected))
        assert got == sorted(got)
        assert got[0] == expected[0]
        assert got[-1] == expected[-1]
        low, high = expected[0][0], expected[-1][0]
        levels = [low + (high - low) * k / (points - 1) for k in range(points)]
        best = [max(e for e in expected if e[0] <= level + 1e-9) for level in levels]
        assert set(best) <= set(got)


def test_points_of_a_large_front_are_never_dominated() -> None:
    got = front(make_problem(77, subjects=14, calm=True), points=12).points
    assert len(got) > 3
    assert all(a.cost < b.cost and a.kept < b.kept for a, b in itertools.pairwise(got))


def test_one_point_is_refused() -> None:
    with pytest.raises(InputError, match="points is 1"):
        front(make_problem(0), points=1)
