"""That people are never in together is said where no team of them is, and nowhere else."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from asfound.base import NoSolutionError
from asfound.plan import Hours, Person, PlanProblem, Task, WorkingTime, plan

YEARS_20 = 7305
FAR = 8000
HOURS = st.sampled_from([2, 3, 4, 5, 6, 7.5, 8])


@st.composite
def people(draw: st.DrawFn) -> tuple[Person, ...]:
    """People who work few days each, some away for a while or from a day on."""
    found = []
    for n in range(draw(st.integers(2, 9))):
        week = draw(st.sets(st.integers(0, 6), min_size=1, max_size=2))
        minutes = round(60 * draw(HOURS))
        first = draw(st.integers(0, 40))
        last = draw(st.sampled_from([first, first + 12, 4000, FAR]))
        time = WorkingTime(
            minutes=tuple(minutes if day in week else 0 for day in range(7)),
            away=((first, last),) if draw(st.booleans()) else (),
        )
        trade = draw(st.sampled_from(["panel", "panel", "panel", "paint"]))
        found.append(Person(person=f"p{n}", trades=(trade,), time=time))
    return tuple(found)


def works(person: Person, day: int) -> int:
    """Minutes of a day, of which every person's begin at the same hour."""
    away = any(first <= day <= last for first, last in person.time.away)
    return 0 if away else person.time.minutes[day % 7]


def together_min(problem: PlanProblem) -> int:
    """What the team that is in together longest has for the one task, counted day by day."""
    (task,) = problem.tasks
    able = [one for one in problem.people if task.trade in one.trades]
    days = range(task.not_before_min // 1440, YEARS_20)
    teams = combinations([[works(one, day) for day in days] for one in able], task.people)
    return max((sum(map(min, zip(*team, strict=True))) for team in teams), default=0)


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(people(), st.integers(1, 3), st.sampled_from([1, 4, 30]), st.sampled_from([0, 0, 20, 60]))
def test_it_is_said_where_no_team_is_and_nowhere_else(
    crew: tuple[Person, ...], count: int, hours: int, day: int
) -> None:
    assume(sum("panel" in one.trades for one in crew) >= count)
    problem = lift(crew, count=count, hours=hours, day=day)
    if together_min(problem) >= 60 * hours:
        assert plan(problem, work_s=0.5).of("lift").end_min > 0
    else:
        with pytest.raises(NoSolutionError, match="at the same time"):
            plan(problem, work_s=0.5)


def test_the_one_team_of_many_that_is_in_together_is_found() -> None:
    """Of nine people with 84 teams of three only the last three share a day."""
    weekdays = (0, 0, 1, 1, 2, 2, 4, 4, 4)
    crew = tuple(
        Person(
            person=f"p{n}",
            trades=("panel",),
            time=WorkingTime(minutes=tuple(240 + 15 * n if d == on else 0 for d in range(7))),
        )
        for n, on in enumerate(weekdays)
    )
    found = plan(lift(crew, count=3, hours=4, day=0), work_s=0.5).of("lift")
    assert set(found.people) == {"p6", "p7", "p8"}
    assert found.start_min == 4 * 1440 + 480


def lift(crew: tuple[Person, ...], *, count: int, hours: int, day: int) -> PlanProblem:
    """One task that takes so many people at once."""
    task = Task(
        task="lift", hours=Hours.sure(hours), trade="panel", people=count, not_before_min=1440 * day
    )
    return PlanProblem(tasks=(task,), people=crew)
