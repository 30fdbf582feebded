"""What must hold for every car: more room never hurts, order never matters, limits hold."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.laws.choose.cases import faults, feasible, make_problem

from asfound.base import NoSolutionError, StoppedError
from asfound.choose import (
    Brief,
    Choice,
    Option,
    Problem,
    Subject,
    choose,
    find_clash,
    front,
    relaxations,
)

SEEDS = st.integers(min_value=0, max_value=10**6)


def choice_or_none(problem: Problem) -> Choice | None:
    try:
        return choose(problem)
    except NoSolutionError:
        return None


def never_worse(before: Choice | None, after: Choice | None) -> bool:
    return before is None or (after is not None and after.kept >= before.kept)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=SEEDS, calm=st.booleans())
def test_more_room_never_lowers_what_is_kept(seed: int, calm: bool) -> None:
    problem = make_problem(seed, subjects=6, calm=calm)
    brief = problem.brief
    wider = replace(
        brief,
        cost_max=None if brief.cost_max is None else brief.cost_max + 7.3,
        hours_max={t: h * 1.2 for t, h in brief.hours_max.items()},
        min_grade={z: g / 2 for z, g in brief.min_grade.items()},
    )
    assert never_worse(choice_or_none(problem), choice_or_none(replace(problem, brief=wider)))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=SEEDS, calm=st.booleans(), kept=st.sampled_from([0.0, 0.4, 0.95]))
def test_another_option_never_lowers_what_is_kept(seed: int, calm: bool, kept: float) -> None:
    problem = make_problem(seed, subjects=6, calm=calm)
    more = Option(
        subject="piece 1", option="another", treatment="clean", kept=kept, grade=3, cost=9
    )
    wider = replace(problem, options=(*problem.options, more))
    assert never_worse(choice_or_none(problem), choice_or_none(wider))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=SEEDS, calm=st.booleans())
def test_order_of_rows_changes_nothing(seed: int, calm: bool) -> None:
    problem = make_problem(seed, subjects=6, calm=calm)
    draw = random.Random(seed)
    shuffled = Problem(
        subjects=tuple(draw.sample(problem.subjects, len(problem.subjects))),
        options=tuple(draw.sample(problem.options, len(problem.options))),
        links=tuple(draw.sample(problem.links, len(problem.links))),
        brief=problem.brief,
    )
    assert choice_or_none(problem) == choice_or_none(shuffled)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=SEEDS, subjects=st.integers(min_value=2, max_value=30))
def test_every_choice_meets_every_requirement_exactly(seed: int, subjects: int) -> None:
    problem = make_problem(seed, subjects=subjects, calm=True)
    named = {(o.subject, o.option): o for o in problem.options}
    choice = choice_or_none(problem)
    if choice is not None:
        assert faults(problem, {s: named[s, o] for s, o in choice.options.items()}) == []
        lifted = replace(problem, brief=replace(problem.brief, cost_max=None))
        for point in front(problem, points=4).points:
            assert faults(lifted, {s: named[s, o] for s, o in point.options.items()}) == []


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=SEEDS)
def test_a_relaxation_is_just_enough(seed: int) -> None:
    problem = make_problem(seed, tight=0.3)
    clash = find_clash(problem)
    if clash is None:
        return
    for way in relaxations(problem, clash):
        if way.words.startswith("cost"):
            wide = replace(problem, brief=replace(problem.brief, cost_max=way.enough))
            tight = replace(problem, brief=replace(problem.brief, cost_max=way.enough - 0.005))
            assert feasible(wide) != []
            assert feasible(tight) == []


def even_car(amounts: list[float], cost_max: float) -> Problem:
    options = tuple(
        Option(subject=f"p{i}", option=o, treatment=o, kept=k, grade=3, cost=c)
        for i, cost in enumerate(amounts)
        for o, k, c in (("keep", 1.0, cost), ("let go", 0.0, 0.0))
    )
    return Problem(
        subjects=tuple(Subject(subject=f"p{i}") for i in range(len(amounts))),
        options=options,
        brief=Brief(cost_max=cost_max),
    )


def test_a_limit_met_to_the_last_cent_is_met() -> None:
    # 0.1 + 0.2 is more than 0.3 in binary; people who wrote these numbers expect it to fit.
    assert choose(even_car([0.1, 0.2], 0.3)).kept == 1.0


def test_a_limit_passed_by_less_than_the_solver_sees_is_passed() -> None:
    choice = choose(even_car([1.0, 2.0000000001], 3.0))
    assert choice.kept == 0.5
    assert choice.cost <= 3.0


def test_numbers_with_many_digits_are_still_exact() -> None:
    amounts = [1.123456789012, 2.987654321098, 3.141592653589]
    assert choose(even_car(amounts, 7.252703763699)).kept == 1.0
    assert choose(even_car(amounts, 7.252703763698)).kept == pytest.approx(2 / 3)


def test_work_can_be_stopped() -> None:
    def stop(done: float) -> None:
        raise StoppedError("stopped")

    with pytest.raises(StoppedError):
        front(make_problem(5, subjects=6, calm=True), progress=stop)


def test_a_front_of_numbers_with_many_digits_is_whole() -> None:
    amounts = [1.123456789012, 2.987654321098, 3.141592653589, 0.577215664901]
    got = front(even_car(amounts, 100.0))
    assert got.exact
    # Every subset of four costs something else; the cheapest of each size are the front.
    sums = [0.0, 0.577215664901, 1.700672453913, 4.688326775011, 7.8299194286]
    assert [round(p.cost, 12) for p in got.points] == sums
    assert [p.kept for p in got.points] == [0, 0.25, 0.5, 0.75, 1]
