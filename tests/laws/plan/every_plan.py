"""Every order and every team of a tiny plan, hour by hour: slow, and too plain to be wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import combinations, permutations

from tests.laws.plan.broken_rules import at_work, shut

from asfound.plan import PlanProblem

HOUR, LAST = 60, 60 * 24 * 60
NEVER = 10**12

Value = Callable[[Mapping[str, int]], int]
"""What is to be made small, by the ends of some tasks; more tasks never make it less."""


def least(problem: PlanProblem, value: Value) -> int:
    """The least value of every order and every team, each task as early as it goes.

    Times are whole hours here, so that it is enough to look at each hour.
    """
    best = NEVER
    names = [t.task for t in problem.tasks]
    before = {n: {link.before for link in problem.links if link.after == n} for n in names}
    for order in permutations(names):
        if all(before[n] <= set(order[:i]) for i, n in enumerate(order)):
            best = min(best, _least(problem, value, list(order), {}, {}, best))
    return best


def _least(
    problem: PlanProblem,
    value: Value,
    order: list[str],
    taken: dict[tuple[str, int], int],
    ends: dict[str, int],
    best: int,
) -> int:
    if not order:
        return value(ends)
    task = next(t for t in problem.tasks if t.task == order[0])
    able = [p for p in problem.people if task.trade in p.trades]
    for team in combinations(able, task.people):
        hours = _place(problem, task.task, [p.person for p in team], taken, ends)
        if not hours or value({**ends, task.task: hours[1]}) >= best:
            continue
        now = dict(taken)
        start, end = hours
        for hour in range(start, end, HOUR) if task.hours.minutes else ():
            for what in [*task.bays, *(p.person for p in team)]:
                now[what, hour] = now.get((what, hour), 0) + 1
        best = min(best, _least(problem, value, order[1:], now, {**ends, task.task: end}, best))
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
