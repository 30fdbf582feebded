"""A new plan keeps what has started, and moves nothing where nothing has changed."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.laws.plan.broken_rules import broken_rules
from tests.laws.plan.cases import problems

from asfound.base import NoSolutionError
from asfound.plan import Earlier, Placed, Plan, PlanProblem, plan

SOME = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))


def first_plan(problem: PlanProblem) -> Plan | None:
    try:
        return plan(problem, work_s=2.0)
    except NoSolutionError:
        return None


def started(made: Plan, now: int) -> dict[str, Placed]:
    return {p.task: p for p in made.placed if p.start_min < now}


def from_now(problem: PlanProblem, now: int) -> PlanProblem:
    """The same tasks, none of which can start before now."""
    tasks = tuple(replace(t, not_before_min=max(t.not_before_min, now)) for t in problem.tasks)
    return replace(problem, tasks=tasks)


@SOME
@given(problems(most_tasks=7), st.integers(0, 5))
def test_nothing_moves_where_nothing_has_changed(problem: PlanProblem, half_days: int) -> None:
    made = first_plan(problem)
    if made is None:
        return
    now = 720 * half_days
    again = plan(
        from_now(problem, now), work_s=2.0, earlier=Earlier(held=started(made, now), plan=made)
    )
    assert again.finish_min <= made.finish_min
    if made.proved:
        assert again.placed == made.placed


@SOME
@given(problems(most_tasks=7), st.integers(1, 4), st.data())
def test_what_has_started_stays_when_something_is_late(
    problem: PlanProblem, half_days: int, data: st.DataObject
) -> None:
    made = first_plan(problem)
    if made is None:
        return
    now = 720 * half_days
    held = started(made, now)
    later = data.draw(st.sampled_from(problem.tasks)).task
    changed = from_now(problem, now)
    if later not in held:  # its parts come back a day late
        tasks = tuple(
            replace(t, not_before_min=now + 1440) if t.task == later else t for t in changed.tasks
        )
        changed = replace(changed, tasks=tasks)
    again = plan(changed, work_s=2.0, earlier=Earlier(held=held, plan=made))
    assert broken_rules(changed, again, held=tuple(held)) == []
    assert {p.task: p for p in again.placed if p.task in held} == held
