"""Work that has begun keeps its start, and so decides what sets the finish."""

from __future__ import annotations

from asfound.plan import (
    Earlier,
    Hours,
    Person,
    Placed,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    critical_tasks,
    plan,
)


def test_what_begun_work_did_not_wait_for_does_not_set_the_finish() -> None:
    # The second was begun although the first is not done: only its own ten hours end the plan.
    people = [
        Person(person=name, trades=("panel",), time=WorkingTime.every_day(24))
        for name in ("Ann", "Bo")
    ]
    problem = PlanProblem(
        tasks=(
            Task(task="first", hours=Hours.sure(4), trade="panel"),
            Task(task="second", hours=Hours.sure(10), trade="panel"),
        ),
        links=(TaskLink(before="first", after="second"),),
        people=tuple(people),
    )
    held = {
        "first": Placed(task="first", start_min=0, end_min=240, people=("Ann",)),
        "second": Placed(task="second", start_min=0, end_min=600, people=("Bo",)),
    }
    found = plan(problem, work_s=0.1, earlier=Earlier(held=held))
    assert found.finish_min == 600
    assert critical_tasks(problem, found, held=frozenset(held)) == ("second",)
