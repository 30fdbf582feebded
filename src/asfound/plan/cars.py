"""What several cars' finishes cost: days at the car's priority, days past its promise more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from asfound.plan.bound import Group
from asfound.plan.draft import Draft
from asfound.plan.reach import Reach
from asfound.plan.shop import Shop

LATE = 10
"""How many days of its own finish a day after its promise is worth to a car: a convention."""
_SCALE = 100
"""Priorities to whole numbers."""
MOST_CARS = 10
"""In which order cars finish is looked at up to so many of them (1024 sets)."""


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class Cars:
    """The cars of a shop and what their finishes cost.

    Notes
    -----
    A plan of several cars costs Σ wᵢ (Cᵢ + 10 Tᵢ), with priority w, finish C and tardiness
    T = max(0, C − promised), the weighted completion and the weighted tardiness of scheduling
    (Pinedo, Scheduling, chapter 2, from memory), in ticks of the shop's open time. A plan of one
    car costs nothing here: its finish alone counts.
    """

    shop: Shop

    @cached_property
    def weights(self) -> Mapping[str, int]:
        """Whole weight of each car."""
        priority = self.shop.problem.priority
        cars = sorted({task.car for task in self.shop.problem.tasks})
        return {car: max(round(_SCALE * priority.get(car, 1.0)), 1) for car in cars}

    @cached_property
    def promised(self) -> Mapping[str, int]:
        """Tick by which each car with a promise is promised."""
        told = self.shop.problem.promised_min
        return {car: self.shop.tick_of(max(told[car], 0)) for car in self.weights if car in told}

    @property
    def several(self) -> bool:
        """Whether there is more than one car."""
        return len(self.weights) > 1

    def of(self, car: str, tick: int) -> int:
        """Cost of a car that finishes at a tick."""
        late = max(0, tick - self.promised[car]) if car in self.promised else 0
        return self.weights[car] * (tick + LATE * late)

    def latest(self, car: str, cost: int) -> int:
        """Last tick at which a car may finish for so much."""
        tick = cost // self.weights[car]
        promised = self.promised.get(car, tick)
        return tick if tick <= promised else (tick + LATE * promised) // (1 + LATE)

    def cost(self, end: Mapping[str, int]) -> int:
        """Cost of a plan by the ends of its tasks."""
        return sum(self.of(car, tick) for car, tick in self.finishes(end).items())

    def finishes(self, end: Mapping[str, int]) -> dict[str, int]:
        """Finish of each car."""
        last = dict.fromkeys(self.weights, 0)
        for task in self.shop.problem.tasks:
            last[task.car] = max(last[task.car], end[task.task])
        return last

    def value(self, draft: Draft) -> int:
        """What is to be made small: the cost of several cars, the finish of one."""
        return self.cost(draft.end) if self.several else draft.finish

    def alone(self, reach: Mapping[str, Reach]) -> dict[str, int]:
        """Tick before which each car cannot finish, had it the shop to itself."""
        return self.finishes({name: one.end + one.tail for name, one in reach.items()})

    def by_worth(self) -> list[str]:
        """Cars by work over weight, the least first: the rule of Smith (1956), from memory."""
        work = dict.fromkeys(self.weights, 0)
        for task in self.shop.problem.tasks:
            work[task.car] += task.hours.minutes
        return sorted(work, key=lambda car: (work[car] / self.weights[car], car))


def least_cost(cars: Cars, reach: Mapping[str, Reach], groups: Sequence[Group]) -> int:
    """Cost that no plan can go below.

    Notes
    -----
    The last of a set of cars to finish does so when the work of the whole set is done, in each
    trade and bay; the least cost over the orders of finishing is found set by set, as Held and
    Karp (1962) do.
    """
    alone = cars.alone(reach)
    if len(alone) > MOST_CARS:
        return sum(cars.of(car, tick) for car, tick in alone.items())
    least: dict[frozenset[str], int] = {frozenset(): 0}
    for size in range(1, len(alone) + 1):
        for several in map(frozenset, combinations(alone, size)):
            done = max((_done(cars.shop, g, reach, several) for g in groups), default=0)
            least[several] = min(
                least[several - {car}] + cars.of(car, max(alone[car], done)) for car in several
            )
    return least[frozenset(alone)]


def _done(shop: Shop, group: Group, reach: Mapping[str, Reach], cars: Iterable[str]) -> int:
    """Tick before which the group's work of these cars cannot be done."""
    own = [i for i, task in enumerate(group.tasks) if task.car in cars]
    if not own:
        return 0
    low = min(reach[group.tasks[i].task].start for i in own)
    enough = group.given(low) + int(group.work[own].sum())
    high = shop.total
    while low < high:
        middle = (low + high) // 2
        if group.given(middle) < enough:
            low = middle + 1
        else:
            high = middle
    return low
