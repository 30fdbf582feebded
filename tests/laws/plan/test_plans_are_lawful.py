"""A plan breaks no rule, is never shorter than the shortest, and is the same each time."""

from __future__ import annotations

from itertools import combinations, permutations

import pytest
from hypothesis import HealthCheck, given, settings
from tests.laws.plan.broken_rules import at_work, broken_rules, shut
from tests.laws.plan.cases import problems

from asfound.base import NoSolutionError
from asfound.plan import Plan, PlanProblem, plan

QUICK = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
HOUR, LAST = 60, 60 * 24 * 60


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
    assert made.finish_min == shortest(problem)


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(problems())
def test_the_same_again(problem: PlanProblem) -> None:
    assert found(problem) == found(problem)


def shortest(problem: PlanProblem) -> int:
    """The earliest finish of every order and every team, each task as early as it goes.

    Times are whole hours here, so that it is enough to look at each hour.
    """
    best = LAST
    names = [t.task for t in problem.tasks]
    before = {n: {link.before for link in problem.links if link.after == n} for n in names}
    for order in permutations(names):
        if all(before[n] <= set(order[:i]) for i, n in enumerate(order)):
            best = min(best, _finish(problem, list(order), {}, {}, best))
    return best


def _finish(
    problem: PlanProblem,
    order: list[str],
    taken: dict[tuple[str, int], int],
    ends: dict[str, int],
    best: int,
) -> int:
    if not order:
        return max(ends.values(), default=0)
    task = next(t for t in problem.tasks if t.task == order[0])
    able = [p for p in problem.people if task.trade in p.trades]
    for team in combinations(able, task.people):
        hours = _place(problem, task.task, [p.person for p in team], taken, ends)
        if not hours or hours[1] >= best:
            continue
        now = dict(taken)
        start, end = hours
        for hour in range(start, end, HOUR) if task.hours.minutes else ():
            for what in [*task.bays, *(p.person for p in team)]:
                now[what, hour] = now.get((what, hour), 0) + 1
        best = min(best, _finish(problem, order[1:], now, {**ends, task.task: end}, best))
    return best


def _place(
    problem: PlanProblem,
    name: str,
    team: list[str],
    taken: dict[tuple[str, int], int],
    ends: dict[str, int],
) -> tuple[int, int] | None:
    task = next(t for t in problem.tasks if t.task == name)
    people = {p.person: p for p in problem.people}
    links = [link for link in problem.links if link.after == name]
    ready = max([task.not_before_min, *(ends[link.before] + link.lag_min for link in links)])
    first = problem.first_weekday
    room = {bay.bay: bay.count for bay in problem.bays}
    bays = {bay.bay: bay for bay in problem.bays}

    def works(hour: int) -> bool:
        who = [people[p] for p in team] if task.hours.minutes else []
        if who:
            return all(at_work(p.time, hour, first) for p in who)
        return any(at_work(p.time, hour, first) for p in problem.people)

    for start in range(ready, LAST, HOUR):
        if not works(start):
            continue
        end, left = start, task.hours.minutes
        while left and end < LAST:
            left -= HOUR * works(end)
            end += HOUR
        span = range(start, end, HOUR)
        busy = any((p, hour) in taken for p in team for hour in span)
        full = any(
            taken.get((bay, hour), 0) >= room[bay] - shut(bays[bay], hour)
            for bay in task.bays
            for hour in span
        )
        if not left and not busy and not full:
            return start, end
    return None
