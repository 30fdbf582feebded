"""The day that can be promised: the finish of a plan when its hours are in doubt."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from asfound.base import InputError
from asfound.plan.logic import Logic
from asfound.plan.plan import Plan, Progress
from asfound.plan.policy import Course, Policy
from asfound.plan.policy_choice import best_patience
from asfound.plan.problem import PlanProblem
from asfound.plan.three_point import SHARED_WITHIN_TRADE, draw_hours
from asfound.plan.what_if import Driver, Overtime, WhatIf

DRAWS, _TASKS = 10_000, 150
"""So many draws for so many tasks; of more tasks each draw takes longer, and fewer are made."""
LEAST_DRAWS = 250

_SHARE_ENDS, _SHARE_DRIVERS = 0.6, 0.8
"""Of the work that is done when the finishes are known, and when the drivers are."""

Finishes = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """Finish of a plan under doubt.

    Parameters
    ----------
    finishes_min : ndarray
        Finish in each draw, in rising order [min from the plan's first midnight].
    cars : mapping of str to Promise
        The same for each car, where there are several.
    drivers : tuple of Driver
        Tasks that drive the late end, the strongest first.
    overtime : tuple of Overtime
        People on whose time the finish hangs, the best first.
    patience_min : float
        How long a late task keeps its turn before others (``best_patience``).
    """

    finishes_min: Finishes
    cars: Mapping[str, Promise] = field(default_factory=dict)
    drivers: tuple[Driver, ...] = ()
    overtime: tuple[Overtime, ...] = ()
    patience_min: float = 0.0

    def of(self, car: str) -> Promise:
        """Finish of one car alone; of all that is planned where there is only one."""
        return self.cars[car] if self.cars else self

    @property
    def draws(self) -> int:
        """How many draws it rests on."""
        return len(self.finishes_min)

    def by(self, chance: float) -> float:
        """Earliest time [min] by which the share ``chance`` of the draws has finished, 0–1."""
        return float(np.quantile(self.finishes_min, chance, method="inverted_cdf"))

    def curve_min(self, *, steps: int = 100) -> tuple[int, ...]:
        """Times [min] by which the shares 0, 1/steps, … 1 of the draws have finished."""
        chances = np.linspace(0, 1, steps + 1)
        times = np.quantile(self.finishes_min, chances, method="inverted_cdf")
        return tuple(round(time) for time in times)

    def chance_by(self, time_min: float) -> float:
        """Share of the draws that has finished by then."""
        return float(
            np.searchsorted(self.finishes_min, time_min, side="right") / len(self.finishes_min)
        )


def draws_for(tasks: int) -> int:
    """How many draws are made where nobody asks for a number.

    Examples
    --------
    >>> draws_for(150), draws_for(450), draws_for(6000)
    (10000, 1925, 250)
    """
    share = min(1.0, _TASKS / tasks) if tasks else 1.0
    return max(LEAST_DRAWS, round(DRAWS * math.pow(share, 1.5)))


def promise(
    problem: PlanProblem,
    plan: Plan,
    *,
    seed: int = 0,
    draws: int | None = None,
    shared: float = SHARED_WITHIN_TRADE,
    held: frozenset[str] = frozenset(),
    why: bool = True,
    progress: Progress | None = None,
) -> Promise:
    """Finish of a plan when the hours of its tasks are drawn again and again.

    Parameters
    ----------
    problem : PlanProblem
    plan : Plan
        A plan of the problem, by which the shop goes on in every draw (``Policy``).
    seed : int
    draws : int or None
        One or more; as many as go with so many tasks (``draws_for``) where it is None.
    shared : float
        Correlation within a trade, 0–1.
    held : frozenset of str
        Tasks that have started.
    why : bool
        Whether to ask what drives the late end and what overtime would bring.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop.

    Raises
    ------
    InputError
        If a number is out of its range.

    Notes
    -----
    Each draw takes the hours of every task from its beta distribution (``three_point``) and plays
    how the shop goes on: by the plan as long as nothing is late, and with the next task that is
    ready where something is (``Policy``), as patiently as suits it best (``best_patience``). With
    certain hours that is the plan itself. A chance p is known to √(p (1 − p)/draws): with 10,000
    draws 80 % to 0.4 %, with 1,925 to 0.9 %.
    """
    if draws is not None and draws < 1:
        raise InputError(field="draws", got=draws, allowed="one or more")
    if not 0 <= shared <= 1:
        raise InputError(field="shared", got=shared, allowed="between 0 and 1")
    tell = progress or _silent
    logic = Logic(problem, plan, held=held)
    policy, tasks = Policy(logic), [problem.named[step.task] for step in logic.steps]
    rng = np.random.default_rng(seed)
    draws = draws or draws_for(len(tasks))
    work_min = 60 * draw_hours(tasks, draws=draws, rng=rng, shared=shared)
    groups = _rows_by_car(problem, logic)
    patience_min = best_patience(policy, work_min, groups, problem.priority)
    policy = policy.with_patience(patience_min)
    finishes, course = _finishes(policy, work_min, [*groups.values()], _part(tell, 0, _SHARE_ENDS))
    drivers: list[tuple[Driver, ...]] = [()] * len(groups)
    overtime: list[tuple[Overtime, ...]] = [()] * len(groups)
    if why and tasks:
        what_if = WhatIf(policy, work_min, course, [*groups.values()])
        drivers = what_if.drivers(_part(tell, _SHARE_ENDS, _SHARE_DRIVERS))
        overtime = what_if.overtime(problem.people, _part(tell, _SHARE_DRIVERS, 1))
    whole, *cars = (
        Promise(
            finishes_min=np.sort(each),
            drivers=late,
            overtime=more,
            patience_min=patience_min,
        )
        for each, late, more in zip(finishes, drivers, overtime, strict=True)
    )
    named = [car for car in groups if car is not None]
    return replace(whole, cars=dict(zip(named, cars, strict=True)))


def _finishes(
    policy: Policy, work_min: Finishes, groups: list[list[int]], tell: Progress
) -> tuple[list[Finishes], Course]:
    """Finish of each group in each draw, and the course of the first draws."""
    draws, together = work_min.shape[1], policy.together
    found = [np.zeros(draws) for _ in groups]
    first: Course | None = None
    for begin in range(0, draws, together):
        tell(begin / draws)
        course = policy.course(work_min[:, begin : begin + together])
        for finishes, rows in zip(found, groups, strict=True):
            finishes[begin : begin + together] = course.end_min[rows].max(axis=0, initial=0.0)
        first = first or course
    assert first is not None  # there is a draw
    return found, first


def _rows_by_car(problem: PlanProblem, logic: Logic) -> dict[str | None, list[int]]:
    """Rows of all tasks, then those of each car, where there are several."""
    cars: dict[str | None, list[int]] = {}
    for step in logic.steps:
        cars.setdefault(problem.named[step.task].car, []).append(step.row)
    everything: dict[str | None, list[int]] = {None: list(range(len(logic.steps)))}
    return everything | (cars if len(cars) > 1 else {})


def _part(tell: Progress, begin: float, end: float) -> Progress:
    """Tells the share of one part as that of the whole."""
    return lambda done: tell(begin + (end - begin) * done)


def _silent(_done: float) -> None:
    pass
