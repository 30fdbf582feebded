"""The brief can be met, and not everything can be had."""

from __future__ import annotations

from dataclasses import replace

import pytest

from asfound.choose import Choice, Problem, choose
from asfound.demo import demo_folder
from asfound.demo.findings import COST, contested_of, limits_of
from asfound.record.convert.choice import choice_problem


@pytest.fixture(scope="module")
def problem() -> Problem:
    return choice_problem(demo_folder())


@pytest.fixture(scope="module")
def choice(problem: Problem) -> Choice:
    return choose(problem)


def test_the_brief_can_be_met_and_binds(problem: Problem, choice: Choice) -> None:
    limits = {limit.name: limit for limit in limits_of(problem, choice)}
    assert set(limits) == {COST, "mechanic", "painter", "trimmer", "electrician"}
    assert all(limit.taken <= limit.most for limit in limits.values())
    assert limits[COST].gain_kept > 0
    assert limits["painter"].gain_kept > 0


def test_lifting_a_limit_never_keeps_less(problem: Problem, choice: Choice) -> None:
    assert all(limit.gain_kept >= 0 for limit in limits_of(problem, choice))


def test_more_and_less_money_change_pieces(problem: Problem, choice: Choice) -> None:
    contested = contested_of(problem, choice)
    assert any(piece.with_less != piece.option for piece in contested)
    assert any(piece.with_more != piece.option for piece in contested)


def test_without_a_limit_of_cost_no_piece_hangs_on_money(problem: Problem, choice: Choice) -> None:
    free = replace(problem, brief=replace(problem.brief, cost_max=None))
    assert contested_of(free, choice) == ()


def test_work_that_is_shared_is_used(problem: Problem, choice: Choice) -> None:
    shared = [link for link in problem.links if link.kind == "shares"]
    used = [
        link
        for link in shared
        if choice.options[link.subject] == link.option
        and choice.options[link.other_subject] == link.other_option
    ]
    assert used
