"""Holding what cannot be in a better choice loses nothing: brute force and the search agree."""

from __future__ import annotations

import pytest
from tests.laws.choose.cases import make_coupled, make_problem
from tests.laws.choose.test_brute_force import check

from asfound.base import NoSolutionError
from asfound.choose import Problem, choose, front, model


@pytest.fixture
def narrowed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hold columns on small cars too."""
    monkeypatch.setattr(model, "_LARGE", 0)


@pytest.mark.usefixtures("narrowed")
@pytest.mark.parametrize("block", range(3))
def test_narrowed_choice_is_the_best_of_all_choices(block: int) -> None:
    solved = [check(make_problem(700 + block * 100 + i, calm=i % 2 == 0)) for i in range(12)]
    assert any(solved)
    coupled = [check(make_coupled(700 + block * 100 + i, calm=True)) for i in range(6)]
    assert any(coupled)


def outcome(problem: Problem) -> tuple[object, ...]:
    try:
        points = front(problem).points
    except NoSolutionError:
        return ()
    choice = choose(problem)
    return (choice.kept, choice.cost, *((p.kept, p.cost) for p in points))


def test_narrowed_front_is_the_whole_front(monkeypatch: pytest.MonkeyPatch) -> None:
    problems = [make_problem(seed, subjects=9, options=6, calm=True) for seed in range(300, 306)]
    whole = [outcome(problem) for problem in problems]
    monkeypatch.setattr(model, "_LARGE", 0)
    assert [outcome(problem) for problem in problems] == whole
    assert any(len(found) > 4 for found in whole)
