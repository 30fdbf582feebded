"""What makes a finish late and what overtime wins are the same as by drawing everything anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.laws.plan.cases import problems

from asfound.base import NoSolutionError
from asfound.plan import Hours, Person, Plan, PlanProblem, WorkingTime, plan, promise
from asfound.plan.open_grid import OpenGrid
from asfound.plan.open_time import OpenTime

DRAWS = 300
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


def late_min(problem: PlanProblem, made: Plan) -> dict[str, float]:
    """Finish of a chance of 80 % of all, and of each car, everything drawn anew."""
    found = promise(problem, made, draws=DRAWS, why=False)
    return {"": found.by(0.8)} | {car: own.by(0.8) for car, own in found.cars.items()}


def certain(problem: PlanProblem, name: str) -> PlanProblem:
    tasks = [
        replace(t, hours=Hours.sure(t.hours.minutes / 60)) if t.task == name else t
        for t in problem.tasks
    ]
    return replace(problem, tasks=tuple(tasks))


def longer(problem: PlanProblem, name: str) -> PlanProblem:
    return replace(
        problem,
        people=tuple(
            replace(p, time=an_hour_more(p)) if p.person == name else p for p in problem.people
        ),
    )


def an_hour_more(person: Person) -> WorkingTime:
    minutes = tuple(m + 60 if m else 0 for m in person.time.minutes)
    return WorkingTime(minutes=minutes, away=person.time.away)


@QUICK
@given(in_doubt())
def test_each_answer_is_that_of_drawing_everything_anew(problem: PlanProblem) -> None:
    try:
        made = plan(problem, work_s=0.5)
    except NoSolutionError:
        pytest.skip("its people are never in together")
    found = promise(problem, made, draws=DRAWS)
    before = late_min(problem, made)
    told = {"": found} | dict(found.cars)
    tasks = {t.task: late_min(certain(problem, t.task), made) for t in problem.tasks}
    people = {p.person: late_min(longer(problem, p.person), made) for p in problem.people}
    for group, answer in told.items():
        drivers = {d.task: d.days_earlier for d in answer.drivers}
        own = {t.task for t in problem.tasks}
        assert drivers == pytest.approx(
            {t: days for t in own if (days := (before[group] - tasks[t][group]) / 1440) >= 0.1}
        )
        overtime = {o.person: o.days_earlier for o in answer.overtime}
        assert overtime == pytest.approx(
            {p: days for p in people if (days := (before[group] - people[p][group]) / 1440) >= 0.1}
        )


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
