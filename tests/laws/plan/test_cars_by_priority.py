"""No order and no team costs several cars less than the bound, nor than a proved plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from hypothesis import HealthCheck, assume, given, reject, settings
from hypothesis import strategies as st
from tests.laws.plan.broken_rules import at_work, broken_rules
from tests.laws.plan.cases import problems
from tests.laws.plan.every_plan import HOUR, least

from asfound.base import NoSolutionError
from asfound.plan import PlanProblem, plan

DAY, LATE = 1440, 10


@st.composite
def shops(draw: st.DrawFn) -> PlanProblem:
    """Two or three cars with priorities, some promised; no bay is ever closed."""
    problem = draw(problems(most_tasks=4))
    assume(len(problem.tasks) > 1)
    cars = draw(st.sampled_from(["xy", "xyz"]))
    tasks = tuple(replace(t, car=cars[i % len(cars)]) for i, t in enumerate(problem.tasks))
    promised = draw(st.dictionaries(st.sampled_from(cars), st.integers(0, 4), max_size=2))
    return replace(
        problem,
        tasks=tasks,
        bays=tuple(replace(bay, closed=()) for bay in problem.bays),
        priority={car: draw(st.sampled_from([0.5, 1.0, 2.0, 3.0])) for car in cars},
        promised_min={car: day * DAY for car, day in promised.items()},
    )


def cost(problem: PlanProblem, ends: Mapping[str, int]) -> int:
    """Twice the sum of priority times finish and ten times lateness, in open minutes."""
    car_of = {t.task: t.car for t in problem.tasks}
    finish: dict[str, int] = {}
    for task, end in ends.items():
        finish[car_of[task]] = max(finish.get(car_of[task], 0), end)
    total = 0.0
    for car, end in finish.items():
        done = _open(problem, end)
        late = max(0, done - _open(problem, problem.promised_min.get(car, end)))
        total += 2 * problem.priority[car] * (done + LATE * late)
    return round(total)


def _open(problem: PlanProblem, minutes: int) -> int:
    """Minutes before a time in which anybody is at work."""
    first = problem.first_weekday
    hours = range(0, minutes, HOUR)
    return HOUR * sum(any(at_work(p.time, h, first) for p in problem.people) for h in hours)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(shops())
def test_a_proved_plan_of_several_cars_costs_as_little_as_any(problem: PlanProblem) -> None:
    try:
        made = plan(problem, work_s=2.0)
    except NoSolutionError:
        reject()  # its people are never in together
    assert broken_rules(problem, made) == []
    assert made.cost is not None
    assert made.cost_least is not None
    own = cost(problem, {p.task: p.end_min for p in made.placed})
    best = least(problem, lambda some: cost(problem, some))
    assert own == best if made.proved else own >= best
    # Both are the same sums in other units, so that their shares can be held against each other.
    assert made.cost_least * own <= made.cost * best
