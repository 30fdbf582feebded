"""A new plan against every other: none that finishes as early moves less."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from asfound.plan import (
    Bay,
    Earlier,
    Hours,
    Person,
    Plan,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    plan,
)

OPEN_H = 4
"""Everybody works from 08:00 to 12:00 on every day, so that open hours can be counted off."""
TIME = WorkingTime.every_day(OPEN_H, weekdays=7)
CREW = tuple(Person(person=f"P{trade}", trades=(trade,), time=TIME) for trade in "ab")
SOME = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def shops(draw: st.DrawFn) -> PlanProblem:
    """Three or four tasks of one or two people, of whom each is the only one of a trade."""
    count = draw(st.integers(3, 4))
    tasks = tuple(
        Task(
            task=f"T{i}",
            hours=Hours.sure(draw(st.integers(1, 3))),
            trade=draw(st.sampled_from("ab")),
            bays=draw(st.sampled_from([{}, {"pit": 1}])),
        )
        for i in range(count)
    )
    pairs = draw(st.lists(st.sampled_from(list(combinations(range(count), 2))), max_size=2))
    links = tuple(TaskLink(before=f"T{i}", after=f"T{j}") for i, j in dict.fromkeys(pairs))
    return PlanProblem(tasks=tasks, links=links, people=CREW, bays=(Bay(bay="pit", count=1),))


@SOME
@given(shops(), st.data())
def test_no_plan_that_finishes_as_early_moves_less(
    problem: PlanProblem, data: st.DataObject
) -> None:
    made = plan(problem, work_s=2.0)
    now = 1440 * data.draw(st.integers(0, 1))
    held = {p.task: p for p in made.placed if p.start_min < now}
    late = data.draw(st.sampled_from(problem.tasks)).task
    tasks = tuple(
        replace(t, not_before_min=now + 1440 * (t.task == late)) if t.task not in held else t
        for t in problem.tasks
    )
    changed = replace(problem, tasks=tasks)
    again = plan(changed, work_s=2.0, earlier=Earlier(held=held, plan=made))
    was = {name: hour(made.of(name).start_min) for name in problem.named}
    moved = sum(abs(hour(again.of(name).start_min) - start) for name, start in was.items())
    stay = {name: was[name] for name in held}
    assert (finish(changed, starts(again)), moved) == least(changed, was=was, stay=stay)


def hour(time_min: int) -> int:
    """Open hours before a start."""
    day, of_day = divmod(time_min, 1440)
    return OPEN_H * day + (of_day - 480) // 60


def starts(made: Plan) -> dict[str, int]:
    return {p.task: hour(p.start_min) for p in made.placed}


def finish(problem: PlanProblem, start: dict[str, int]) -> int:
    return max(start[t.task] + t.hours.minutes // 60 for t in problem.tasks)


def least(problem: PlanProblem, *, was: dict[str, int], stay: dict[str, int]) -> tuple[int, int]:
    """Earliest finish and, with it, least sum of moves, over every hour for every task."""
    most = sum(t.hours.minutes // 60 for t in problem.tasks) + 2 * OPEN_H
    ranges = [
        [stay[t.task]]
        if t.task in stay
        else range(OPEN_H * t.not_before_min // 1440, most - t.hours.minutes // 60 + 1)
        for t in problem.tasks
    ]
    best = (most + 1, 0)
    names = [t.task for t in problem.tasks]
    for hours in product(*ranges):
        start = dict(zip(names, hours, strict=True))
        merit = finish(problem, start), sum(abs(start[n] - was[n]) for n in names)
        if merit < best and lawful(problem, start):
            best = merit
    return best


def lawful(problem: PlanProblem, start: dict[str, int]) -> bool:
    end = {t.task: start[t.task] + t.hours.minutes // 60 for t in problem.tasks}
    if any(start[link.after] < end[link.before] for link in problem.links):
        return False
    return all(
        end[one.task] <= start[two.task]
        or end[two.task] <= start[one.task]
        or not (one.trade == two.trade or (one.bays and two.bays))
        for one, two in combinations(problem.tasks, 2)
    )
