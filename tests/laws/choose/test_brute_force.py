"""The search agrees with looking at every choice in turn."""

from __future__ import annotations

import itertools

import pytest
from tests.laws.choose.cases import Sums, every_choice, faults, feasible, make_coupled, make_problem

from asfound.base import NoSolutionError
from asfound.choose import Problem, choose, find_clash


def best_of(possible: list[Sums]) -> Sums | None:
    return max(possible, key=lambda s: (s.kept, -s.cost, -s.hours), default=None)


def check(problem: Problem) -> bool:
    possible = feasible(problem)
    best = best_of(possible)
    if best is None:
        with pytest.raises(NoSolutionError):
            choose(problem)
        return False
    choice = choose(problem)
    assert choice.proved
    assert choice.gap == 0
    assert choice.kept == float(best.kept)
    assert choice.cost == float(best.cost)
    assert sum(choice.hours.values()) == pytest.approx(float(best.hours), abs=1e-9)
    assert tuple(choice.options.items()) in {s.options for s in possible}
    return True


@pytest.mark.parametrize("block", range(10))
def test_choice_is_the_best_of_all_choices(block: int) -> None:
    solved = [check(make_problem(block * 100 + i, tight=1.0, calm=i % 2 == 0)) for i in range(12)]
    assert any(solved)


@pytest.mark.parametrize("seed", range(3))
def test_choice_is_the_best_of_four_to_the_sixth(seed: int) -> None:
    check(make_problem(5000 + seed, subjects=6, calm=True))


@pytest.mark.parametrize("block", range(5))
def test_coupled_choice_is_the_best_of_all_choices(block: int) -> None:
    solved = [check(make_coupled(block * 100 + i, calm=i % 2 == 0)) for i in range(12)]
    assert any(solved)


def test_coupled_choice_is_the_best_of_four_to_the_seventh() -> None:
    check(make_coupled(6000, subjects=7, calm=True))


def smallest_clash_size(problem: Problem) -> int:
    """The fewest requirements of which every choice breaks at least one."""
    broken = [frozenset(f for f in faults(problem, choice)) for choice in every_choice(problem)]
    # A choice with an unsafe option where a safe one exists is no choice at all.
    broken = [b for b in broken if not any(kind == "unsafe" for kind, _ in b)]
    every = sorted(frozenset().union(*broken), key=repr)
    for size in range(1, len(every) + 1):
        for some in itertools.combinations(every, size):
            if all(not b.isdisjoint(some) for b in broken):
                return size
    raise AssertionError("the brief is possible")


@pytest.mark.parametrize("block", range(2))
def test_no_smaller_set_of_coupled_requirements_clashes(block: int) -> None:
    seen = 0
    for i in range(30):
        problem = make_coupled(3000 + block * 100 + i)
        if feasible(problem):
            continue
        clash = find_clash(problem)
        assert clash is not None
        assert len(clash.requirements) == smallest_clash_size(problem)
        seen += 1
    assert seen


@pytest.mark.parametrize("block", range(6))
def test_no_smaller_set_of_requirements_clashes(block: int) -> None:
    seen = 0
    for i in range(20):
        problem = make_problem(9000 + block * 100 + i, tight=0.25)
        if feasible(problem):
            assert find_clash(problem) is None
            continue
        clash = find_clash(problem)
        assert clash is not None
        assert clash.smallest
        assert len(clash.requirements) == smallest_clash_size(problem)
        seen += 1
    assert seen
