"""Greedy plans: back moves nothing earlier, forth breaks no rule, and tries only better them."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import HealthCheck, assume, given, settings
from tests.laws.plan.broken_rules import broken_rules
from tests.laws.plan.cases import problems

from asfound.plan import Placed, Plan, PlanProblem
from asfound.plan.draft import Draft
from asfound.plan.greedy import pushed_left, pushed_right
from asfound.plan.people_of_crews import name_people
from asfound.plan.reach import HorizonError, reaches
from asfound.plan.shop import Shop
from asfound.plan.tries import Tries

QUICK = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
NONE = Draft(start={}, end={}, crews={})


@dataclass(frozen=True)
class Case:
    """A shop over a month with its first greedy plan."""

    shop: Shop
    tries: Tries
    first: Draft

    def breaks(self, draft: Draft) -> list[str]:
        """Rules that a draft breaks, with names given and ticks turned into times."""
        shop, people = self.shop, name_people(self.shop, draft, before={})
        placed = tuple(
            Placed(
                task=task.task,
                start_min=shop.time_of(draft.start[task.task], ending=False),
                end_min=shop.time_of(draft.end[task.task], ending=task.hours.minutes > 0),
                people=people[task.task],
            )
            for task in shop.problem.tasks
        )
        plan = Plan(placed=placed, finish_min=0, finish_least_min=0, days=0, days_least=0)
        return broken_rules(shop.problem, plan)


def case(problem: PlanProblem) -> Case:
    shop = Shop(problem, days=60)
    try:
        tries = Tries(shop=shop, reach=reaches(shop), fixed=NONE)
        return Case(shop=shop, tries=tries, first=tries.first())
    except HorizonError:  # its people are never in together
        assume(False)
        raise


@QUICK
@given(problems(most_tasks=7))
def test_back_moves_nothing_earlier_and_forth_nothing_later(problem: PlanProblem) -> None:
    here = case(problem)
    back = pushed_right(here.shop, here.first, fixed=NONE)
    assert back.finish == here.first.finish
    assert all(back.start[name] >= start for name, start in here.first.start.items())
    assert here.breaks(back) == []
    forth = pushed_left(here.shop, back, fixed=NONE)
    assert all(forth.start[name] <= start for name, start in back.start.items())
    assert here.breaks(forth) == []


@settings(QUICK, max_examples=15)
@given(problems(most_tasks=7))
def test_the_best_of_the_tries_is_lawful_and_not_worse_than_the_first(problem: PlanProblem) -> None:
    here = case(problem)
    best = here.tries.best(here.first, seed=0, enough=0)
    assert here.tries.merit(best) <= here.tries.merit(here.first)
    assert here.breaks(best) == []
    assert best == here.tries.best(here.first, seed=0, enough=0)
    more = here.tries.bettered(best, seed=0, placed=200, enough=0)
    assert here.tries.merit(more) <= here.tries.merit(best)
    assert here.breaks(more) == []
    assert more == here.tries.bettered(best, seed=0, placed=200, enough=0)
