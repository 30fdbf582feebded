"""What makes a finish late and what overtime wins are the same as by asking of every one alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.laws.plan.cases import problems

from asfound.base import NoSolutionError
from asfound.plan import Hours, PlanProblem, plan, promise
from asfound.plan.logic import Logic
from asfound.plan.open_grid import Minutes, OpenGrid, OpenGrids
from asfound.plan.open_time import OpenTime
from asfound.plan.policy import Policy
from asfound.plan.step_times import NOBODY
from asfound.plan.three_point import draw_hours

DRAWS = 200
QUICK = settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def in_doubt(draw: st.DrawFn) -> PlanProblem:
    """A shop of up to six tasks on two cars, whose hours are in doubt."""
    problem = draw(problems())
    doubt = [
        replace(
            task,
            hours=Hours(low=h / 2, likely=h, high=h * draw(st.sampled_from([1.2, 2, 4]))),
            car=draw(st.sampled_from(["grey", "red"])),
        )
        for task in problem.tasks
        for h in [task.hours.likely]
    ]
    return replace(problem, tasks=tuple(doubt))


@QUICK
@given(in_doubt())
def test_each_answer_is_that_of_its_own_draws_gone_through_again(problem: PlanProblem) -> None:
    try:
        made = plan(problem, work_s=0.5)
    except NoSolutionError:
        pytest.skip("its people are never in together")
    found = promise(problem, made, draws=DRAWS)
    logic = Logic(problem, made)
    policy = Policy(logic, patience_min=found.patience_min)
    tasks = [problem.named[s.task] for s in logic.steps]
    work_min = 60 * draw_hours(tasks, draws=DRAWS, rng=np.random.default_rng(0))
    course = policy.course(work_min)

    def late_min(own: str, work: Minutes, more_min: Mapping[str, int] = NOBODY) -> float:
        ends = policy.again(course, work, draws=np.arange(DRAWS), more_min=more_min)
        rows = [s.row for s in logic.steps if own in ("", problem.named[s.task].car)]
        return float(np.quantile(ends[rows].max(axis=0), 0.8, method="inverted_cdf"))

    for own, answer in {"": found, **found.cars}.items():
        before = late_min(own, work_min)
        won = {}
        for step in logic.steps:
            sure = work_min.copy()
            sure[step.row] = problem.named[step.task].hours.minutes
            won[step.task] = (before - late_min(own, sure)) / 1440
        drivers = {d.task: d.days_earlier for d in answer.drivers}
        assert drivers == pytest.approx({t: days for t, days in won.items() if days >= 0.1})
        more = {
            p.person: (before - late_min(own, work_min, {p.person: 60})) / 1440
            for p in problem.people
        }
        overtime = {o.person: o.days_earlier for o in answer.overtime}
        assert overtime == pytest.approx({p: days for p, days in more.items() if days >= 0.1})


@QUICK
@given(
    st.lists(st.tuples(st.integers(0, 3), st.integers(1, 5)), min_size=1, max_size=8),
    st.sampled_from([1, 7, 30]),
)
def test_a_time_looked_up_is_a_time_searched_for(
    spells: list[tuple[int, int]], unit_min: int
) -> None:
    edges = unit_min * np.cumsum(spells).reshape(-1, 2)
    search, grid = OpenTime(edges), OpenGrid(edges)
    times = np.concatenate((np.arange(edges[-1, 1] + 2.0), np.arange(edges[-1, 1]) + 0.25))
    assert grid.before(times) == pytest.approx(search.before(times))
    for passed in (np.arange(search.total + 1.0), np.arange(search.total) + 0.25):
        assert grid.ends_at(passed) == pytest.approx(search.ends_at(passed))
        assert grid.starts_at(passed) == pytest.approx(search.starts_at(passed))


@QUICK
@given(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 5)), min_size=1, max_size=8))
def test_a_time_of_one_of_several_is_that_of_it_alone(spells: list[tuple[int, int]]) -> None:
    edges = np.cumsum(spells).reshape(-1, 2)
    alone = [OpenGrid(7 * edges), OpenGrid(30 * edges[:1]), OpenGrid(edges)]
    several = OpenGrids(alone)
    for number, grid in enumerate(alone):
        times = np.arange(40 * edges[-1, 1]) + 0.25
        asked = np.full(len(times), number)
        assert (several.before(asked, times) == grid.before(times)).all()
        passed = np.concatenate((np.arange(grid.total_min + 1.0), [0.25]))
        asked = np.full(len(passed), number)
        assert (several.ends_at(asked, passed) == grid.ends_at(passed)).all()
        assert (several.starts_at(asked, passed) == grid.starts_at(passed)).all()
