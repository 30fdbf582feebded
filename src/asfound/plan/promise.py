"""The day that can be promised: the finish of a plan when its hours are in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from asfound.base import InputError
from asfound.plan.logic import Logic
from asfound.plan.plan import Plan, Progress
from asfound.plan.problem import PlanProblem
from asfound.plan.three_point import SHARED_WITHIN_TRADE, draw_hours
from asfound.plan.what_if import Driver, Overtime, WhatIf

DRAWS = 10_000
KEPT_DRAWS = 2_000
"""Draws worked out together, few enough to stay near the processor; the first answer what-ifs."""

_SHARE_ENDS, _SHARE_DRIVERS = 0.4, 0.8
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
    """

    finishes_min: Finishes
    cars: Mapping[str, Promise] = field(default_factory=dict)
    drivers: tuple[Driver, ...] = ()
    overtime: tuple[Overtime, ...] = ()

    def of(self, car: str) -> Promise:
        """Finish of one car alone; of all that is planned where there is only one."""
        return self.cars[car] if self.cars else self

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


def promise(
    problem: PlanProblem,
    plan: Plan,
    *,
    seed: int = 0,
    draws: int = DRAWS,
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
        A plan of the problem; its order of work is held in every draw.
    seed : int
    draws : int
        One or more.
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
    Each draw takes the hours of every task from its beta distribution (``three_point``) and lets
    work land where links, working time and the plan's order of work of each person and place put
    it (``Logic``). A workshop that changes the order when something is late does better; the
    promise is on the safe side of that.
    """
    if draws < 1:
        raise InputError(field="draws", got=draws, allowed="one or more")
    if not 0 <= shared <= 1:
        raise InputError(field="shared", got=shared, allowed="between 0 and 1")
    tell = progress or _silent
    logic = Logic(problem, plan, held=held)
    tasks = [problem.named[step.task] for step in logic.steps]
    rng = np.random.default_rng(seed)
    work_min = 60 * draw_hours(tasks, draws=draws, rng=rng, shared=shared)
    groups = _rows_by_car(problem, logic)
    finishes, kept = _finishes(logic, work_min, list(groups.values()), _part(tell, 0, _SHARE_ENDS))
    drivers: list[tuple[Driver, ...]] = [()] * len(groups)
    overtime: list[tuple[Overtime, ...]] = [()] * len(groups)
    if why and kept.size:
        what_if = WhatIf(logic, work_min[:, :KEPT_DRAWS], kept, list(groups.values()))
        drivers = what_if.drivers(_part(tell, _SHARE_ENDS, _SHARE_DRIVERS))
        overtime = what_if.overtime(problem.people, _part(tell, _SHARE_DRIVERS, 1))
    whole, *cars = (
        Promise(finishes_min=np.sort(each), drivers=late, overtime=more)
        for each, late, more in zip(finishes, drivers, overtime, strict=True)
    )
    named = [car for car in groups if car is not None]
    return replace(whole, cars=dict(zip(named, cars, strict=True)))


def _finishes(
    logic: Logic, work_min: Finishes, groups: list[list[int]], tell: Progress
) -> tuple[list[Finishes], Finishes]:
    """Finish of each group in each draw, and all ends in the first draws."""
    draws = work_min.shape[1]
    last = [logic.last_of(rows) for rows in groups]
    found = [np.zeros(draws) for _ in groups]
    kept = np.empty((len(work_min), 0))
    for begin in range(0, draws, KEPT_DRAWS):
        tell(begin / draws)
        ends = logic.ends(work_min[:, begin : begin + KEPT_DRAWS])
        for finishes, rows in zip(found, last, strict=True):
            finishes[begin : begin + KEPT_DRAWS] = ends[rows].max(axis=0, initial=0.0)
        kept = kept if begin else ends
    return found, kept


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
