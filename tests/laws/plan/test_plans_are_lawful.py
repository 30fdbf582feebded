"""A plan breaks no rule, is never shorter than the shortest, and is the same each time."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from tests.laws.plan.broken_rules import broken_rules
from tests.laws.plan.cases import problems
from tests.laws.plan.every_plan import least

from asfound.base import NoSolutionError
from asfound.plan import Plan, PlanProblem, plan

QUICK = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def found(problem: PlanProblem) -> Plan | None:
    try:
        return plan(problem, work_s=2.0)
    except NoSolutionError:
        return None


@QUICK
@given(problems(most_tasks=7))
def test_no_rule_is_broken_and_the_bound_holds(problem: PlanProblem) -> None:
    made = found(problem)
    if made is None:
        pytest.skip("its people are never in together")
    assert broken_rules(problem, made) == []
    assert made.finish_least_min <= made.finish_min
    assert made.days_least <= made.days
    assert made.finish_min == max(p.end_min for p in made.placed)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(problems(most_tasks=4))
def test_no_order_and_no_team_finishes_before_a_proved_plan(problem: PlanProblem) -> None:
    made = found(problem)
    if made is None or not made.proved:
        pytest.skip("nothing proved")
    assert made.finish_min == least(problem, lambda ends: max(ends.values(), default=0))


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(problems())
def test_the_same_again(problem: PlanProblem) -> None:
    assert found(problem) == found(problem)
