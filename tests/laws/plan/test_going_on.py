"""A shop that goes on by its plan: certain hours give the plan, and no draw breaks a rule."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.laws.plan.broken_rules import broken_rules, shut
from tests.laws.plan.cases import problems
from tests.laws.plan.plain_player import Player

from asfound.base import NoSolutionError
from asfound.plan import Hours, Placed, Plan, PlanProblem, plan
from asfound.plan.logic import Logic
from asfound.plan.policy import Course, Policy

DRAWS = 4
QUICK = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
PATIENCES = st.sampled_from([0, 180, 1440, 30 * 1440])
Case = tuple[PlanProblem, Plan, np.ndarray]


@st.composite
def in_whole_hours(draw: st.DrawFn, *, closed: bool = False) -> Case:
    """A shop in doubt, a plan of it, and minutes of work in a few draws, all in whole hours."""
    problem = draw(problems())
    bays = problem.bays if closed else tuple(replace(bay, closed=()) for bay in problem.bays)
    longer = [draw(st.sampled_from([0, 1, 3])) if t.hours.high else 0 for t in problem.tasks]
    tasks = tuple(
        replace(t, hours=Hours(low=h, likely=h, high=h + 6 * more))
        for t, more in zip(problem.tasks, longer, strict=True)
        for h in [t.hours.likely]
    )
    problem = replace(problem, tasks=tasks, bays=bays)
    try:
        made = plan(problem, work_s=0.5)
    except NoSolutionError:
        pytest.skip("its people are never in together")
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    hours = [problem.named[step.task].hours for step in Logic(problem, made).steps]
    work = [60 * rng.integers(int(h.low), int(h.high) + 1, size=DRAWS) for h in hours]
    return problem, made, np.array(work, dtype=np.float64)


def drawn(case: Case, course: Course, draw: int) -> tuple[PlanProblem, Plan]:
    """What happened in a draw, as a plan of a shop whose hours are those of the draw."""
    problem, made, work_min = case
    logic = Logic(problem, made)
    policy = Policy(logic)
    hours = {s.task: Hours.sure(work_min[s.row, draw] / 60) for s in logic.steps}
    placed = []
    for step in logic.steps:
        crew = policy.tables.crews[course.team[step.row, draw]]
        placed.append(
            Placed(
                task=step.task,
                start_min=round(course.start_min[step.row, draw]),
                end_min=round(course.end_min[step.row, draw]),
                people=tuple(problem.people[i].person for i in crew) if step.works else step.people,
            )
        )
    sure = replace(problem, tasks=tuple(replace(t, hours=hours[t.task]) for t in problem.tasks))
    return sure, replace(made, placed=tuple(placed))


@QUICK
@given(in_whole_hours(), PATIENCES)
def test_certain_hours_give_the_plan(case: Case, patience_min: int) -> None:
    problem, made, _ = case
    logic = Logic(problem, made)
    ends = (
        Policy(logic, patience_min=patience_min).course(logic.likely_min()[:, None]).end_min[:, 0]
    )
    assert {s.task: ends[s.row] for s in logic.steps} == {p.task: p.end_min for p in made.placed}


@QUICK
@given(in_whole_hours(closed=True))
def test_closed_places_keep_nothing_that_is_not_late(case: Case) -> None:
    problem, made, _ = case
    logic = Logic(problem, made)
    likely = logic.likely_min()[:, None]
    assert (Policy(logic).course(likely).end_min == logic.ends(likely)).all()


@QUICK
@given(in_whole_hours(), PATIENCES)
def test_no_draw_breaks_a_rule_or_ends_before_its_bound(case: Case, patience_min: int) -> None:
    problem, made, work_min = case
    course = Policy(Logic(problem, made), patience_min=patience_min).course(work_min)
    for draw in range(DRAWS):
        sure, happened = drawn(case, course, draw)
        assert broken_rules(sure, happened) == []
        least = plan(sure, work_s=0.2).finish_least_min
        assert course.end_min[:, draw].max() >= least


@QUICK
@given(in_whole_hours(closed=True))
def test_nothing_late_begins_in_a_closed_place(case: Case) -> None:
    problem, made, work_min = case
    course = Policy(Logic(problem, made)).course(work_min)
    bays = {bay.bay: bay for bay in problem.bays}
    for draw in range(DRAWS):
        sure, happened = drawn(case, course, draw)
        for one, bay in itertools.product(happened.placed, bays.values()):
            task = sure.named[one.task]
            if bay.bay in task.bays and one.start_min > made.of(one.task).start_min:
                assert not task.hours.minutes or shut(bay, one.start_min) < bay.count


@QUICK
@given(in_whole_hours(), PATIENCES)
def test_each_draw_goes_as_it_does_hour_by_hour(case: Case, patience_min: int) -> None:
    problem, made, work_min = case
    logic = Logic(problem, made)
    policy = Policy(logic, patience_min=patience_min)
    course = policy.course(work_min)
    shorter = np.where(np.arange(len(work_min))[:, None] == 0, work_min / 2 // 60 * 60, work_min)
    again = policy.again(course, shorter, draws=np.arange(DRAWS))
    more = {problem.people[0].person: 60}
    longer = policy.again(course, work_min, draws=np.arange(DRAWS), more_min=more)
    for draw in range(DRAWS):
        player = Player(problem, made, patience_min=patience_min)
        ends = player.play({s.task: round(work_min[s.row, draw]) for s in logic.steps})
        assert {s.task: course.end_min[s.row, draw] for s in logic.steps} == ends
        own = {s.task: round(shorter[s.row, draw]) for s in logic.steps}
        ends = Player(problem, made).again(player.took, own)
        assert {s.task: again[s.row, draw] for s in logic.steps} == ends
        own = {s.task: round(work_min[s.row, draw]) for s in logic.steps}
        ends = Player(problem, made, more_min=more).again(player.took, own)
        assert {s.task: longer[s.row, draw] for s in logic.steps} == ends


@QUICK
@given(in_whole_hours())
def test_shorter_work_in_the_order_of_a_draw_ends_nothing_later(case: Case) -> None:
    problem, made, work_min = case
    policy = Policy(Logic(problem, made))
    course = policy.course(work_min)
    same = policy.again(course, work_min, draws=np.arange(DRAWS))
    assert same == pytest.approx(course.end_min)
    assert (policy.again(course, work_min * 0.7, draws=np.arange(DRAWS)) <= same + 1e-6).all()
