"""How many days have to be looked at, and the first plan that fits into them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from asfound.base import NoSolutionError
from asfound.plan.bound import groups_of, least_finish
from asfound.plan.cars import Cars, least_cost
from asfound.plan.draft import Draft
from asfound.plan.plan import Placed, Progress
from asfound.plan.problem import PlanProblem
from asfound.plan.reach import HorizonError, Reach, reaches
from asfound.plan.shop import Shop
from asfound.plan.spell import breaks_between
from asfound.plan.tries import Tries, lateness
from asfound.plan.working_time import DAY_MIN

FIRST_DAYS = 90
MOST_BREAKS = 8_000
"""Breaks counted once for each task; with more, a greedy plan is given with its bound, for the
solver does not better it in a workshop's patience (measured on invented shops)."""
_LONGER = 150
"""Percent of the finish found up to which several cars are looked for: a cheaper plan may end
later."""
MOST_DAYS = 7305
"""Twenty years: what cannot be done within them cannot be done."""


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class Outlook:
    """The shop over enough days, with what is known before the solver is asked.

    Parameters
    ----------
    shop : Shop
    reach : mapping of str to Reach
    fixed : Draft
        Tasks that stay where they are.
    draft : Draft
        A plan made without the solver; it may miss due days.
    least, most : int
        Tick before which no plan can finish, and tick up to which plans are looked for.
    least_cost : int
        Cost of several cars that no plan goes below.
    whole : bool
        Whether no plan that finishes after ``most`` can be better.
    """

    shop: Shop
    reach: Mapping[str, Reach]
    fixed: Draft
    draft: Draft
    least: int
    most: int
    least_cost: int = 0
    whole: bool = True

    @cached_property
    def cars(self) -> Cars:
        """What the cars' finishes cost."""
        return Cars(shop=self.shop)

    @property
    def least_value(self) -> int:
        """What no plan goes below in what is to be made small."""
        return self.least_cost if self.cars.several else self.least

    @cached_property
    def beyond_solver(self) -> bool:
        """Whether the tasks may run across so many breaks that the solver would get nowhere."""
        shop = self.shop
        loose = [t for t in shop.problem.tasks if t.task not in self.fixed.start]
        spans = ((shop.able(t), self.reach[t.task].start) for t in loose)
        count = sum(len(breaks_between(shop, able, first, self.most)) for able, first in spans)
        return count > MOST_BREAKS

    @property
    def lawful(self) -> bool:
        """Whether the draft meets every due day."""
        return lateness(self.shop, self.draft) == 0


def look_out(
    problem: PlanProblem,
    held: Mapping[str, Placed],
    *,
    seed: int,
    progress: Progress | None = None,
) -> Outlook:
    """Outlook over as few days as will do.

    Raises
    ------
    NoSolutionError
        If a task cannot be done within twenty years.
    """
    latest = max((t.due_min or 0 for t in problem.tasks), default=0)
    latest = max([latest, *(t.not_before_min for t in problem.tasks)])
    latest = max([latest, *(p.end_min for p in held.values())])
    days = latest // DAY_MIN + FIRST_DAYS
    while True:
        try:
            return _look(Shop(problem, days=days), held, seed=seed, progress=progress)
        except HorizonError as stuck:
            if days >= MOST_DAYS:
                raise _never(problem, str(stuck)) from None
            days = min(2 * days, MOST_DAYS)


def _look(
    shop: Shop, held: Mapping[str, Placed], *, seed: int, progress: Progress | None
) -> Outlook:
    fixed = held_draft(shop, held)
    reach = reaches(shop, fixed=fixed)
    tries = Tries(shop=shop, reach=reach, fixed=fixed)
    first = reached = tries.first()
    if lateness(shop, first):
        # Whatever is done by the last due day, the rest can follow it as in this plan.
        reached = replace(tries, floor=max(shop.dues.values())).first()
    if tries.cars.several and first.finish * _LONGER > shop.total * 100 and _has_more_days(shop):
        raise HorizonError("the last car")  # a cheaper plan may end later, and wants the room
    least = least_finish(shop, reach, most=reached.finish, fixed=fixed)
    loose = [t for t in shop.problem.tasks if t.task not in fixed.start]
    cost = least_cost(tries.cars, reach, groups_of(shop, loose)) if tries.cars.several else 0
    enough = cost if tries.cars.several else least
    best = tries.best(first, seed=seed, enough=enough, progress=progress)
    most, needed = reached.finish, shop.total
    if not lateness(shop, best):
        needed = _needed(tries.cars, reach, best)
        most = min(needed, best.finish * _LONGER // 100, shop.total)
    return Outlook(
        shop=shop,
        reach=reach,
        fixed=fixed,
        draft=best,
        least=least,
        most=most,
        least_cost=cost,
        whole=needed <= most or not tries.cars.several,
    )


def _has_more_days(shop: Shop) -> bool:
    """Whether more days may be looked at."""
    return shop.days < MOST_DAYS


def _needed(cars: Cars, reach: Mapping[str, Reach], best: Draft) -> int:
    """Tick by which every plan has finished that is as good as the best so far."""
    if not cars.several:
        return best.finish
    alone = {car: cars.of(car, tick) for car, tick in cars.alone(reach).items()}
    spare = cars.cost(best.end) - sum(alone.values())
    return max(cars.latest(car, spare + cost) for car, cost in alone.items())


def held_draft(shop: Shop, held: Mapping[str, Placed]) -> Draft:
    """Tasks that are held, on the shop's scale."""
    crew_of = {p.person: i for i, crew in enumerate(shop.crews) for p in crew.people}
    crews: dict[str, dict[int, int]] = {}
    for name, placed in held.items():
        crews[name] = {}
        for person in placed.people:
            crew = crew_of[person]
            crews[name][crew] = crews[name].get(crew, 0) + 1
    return Draft(
        start={name: shop.tick_of(placed.start_min) for name, placed in held.items()},
        end={name: shop.tick_of(placed.end_min) for name, placed in held.items()},
        crews=crews,
    )


def _never(problem: PlanProblem, name: str) -> NoSolutionError:
    task = problem.named[name]
    able = ", ".join(person.person for person in problem.able(task.trade))
    reason = (
        f"{name} needs {task.people} of trade {task.trade} at the same time for "
        f"{task.hours.likely:g} h, and {able or 'nobody'} cannot give that within twenty years"
    )
    return NoSolutionError(f"There is no plan: {reason}.", clash=(reason,))
