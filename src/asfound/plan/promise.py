"""The day that can be promised: the finish of a plan when its hours are in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from asfound.base import InputError
from asfound.plan.logic import Logic
from asfound.plan.plan import Plan, Progress
from asfound.plan.problem import PlanProblem
from asfound.plan.three_point import SHARED_WITHIN_TRADE, draw_hours

DRAWS = 10_000
KEPT_DRAWS = 2_000
"""Draws for what-if questions, each of which needs a simulation of its own."""
MOST_DRIVERS = 6
OVERTIME_MIN = 60
LEAST_DAYS = 0.1
"""Days won below this are not told: the finish does not hang on that task or person."""

Finishes = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """A task whose doubt makes the finish late.

    Parameters
    ----------
    task : str
    days_earlier : float
        How much earlier [d by the clock] the finish of a chance of 80 % would be, if the task
        were certain to take its likely hours.
    """

    task: str
    days_earlier: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Overtime:
    """What an hour more on each working day of one person would bring.

    Parameters
    ----------
    person : str
    days_earlier : float
        How much earlier [d by the clock] the finish of a chance of 80 % would be.
    hours : float
        Overtime until the finish [h].
    """

    person: str
    days_earlier: float
    hours: float

    @property
    def hours_a_day(self) -> float:
        """Hours of overtime for each day won."""
        return self.hours / self.days_earlier


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """Finish of a plan under doubt.

    Parameters
    ----------
    finishes_min : ndarray
        Finish in each draw, in rising order [min from the plan's first midnight].
    cars : mapping of str to ndarray
        The same by car, where there are several.
    drivers : tuple of Driver
        Tasks that drive the late end, the strongest first.
    overtime : tuple of Overtime
        People on whose time the finish hangs, the best first.
    """

    finishes_min: Finishes
    cars: Mapping[str, Finishes] = field(default_factory=dict)
    drivers: tuple[Driver, ...] = ()
    overtime: tuple[Overtime, ...] = ()

    def of(self, car: str) -> Promise:
        """Finish of one car alone."""
        return Promise(finishes_min=self.cars[car])

    def by(self, chance: float) -> float:
        """Earliest time [min] by which the share ``chance`` of the draws has finished, 0–1."""
        return float(np.quantile(self.finishes_min, chance, method="inverted_cdf"))

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
    logic = Logic(problem, plan, held=held)
    tasks = [problem.named[step.task] for step in logic.steps]
    rng = np.random.default_rng(seed)
    work_min = 60 * draw_hours(tasks, draws=draws, rng=rng, shared=shared)
    ends = logic.ends(work_min)
    finishes = _last(ends)
    if progress:
        progress(0.5)
    few = slice(None, KEPT_DRAWS)
    return Promise(
        finishes_min=np.sort(finishes),
        cars=_by_car(problem, logic, ends),
        drivers=_drivers(logic, work_min[:, few], finishes[few]) if why else (),
        overtime=_overtime(problem, plan, held, work_min[:, few], finishes[few]) if why else (),
    )


def _finishes(logic: Logic, work_min: Finishes) -> Finishes:
    return _last(logic.ends(work_min))


def _last(ends: Finishes) -> Finishes:
    return np.asarray(ends.max(axis=0)) if len(ends) else np.zeros(ends.shape[1])


def _by_car(problem: PlanProblem, logic: Logic, ends: Finishes) -> dict[str, Finishes]:
    """Finishes of each car in rising order; none where there is only one."""
    rows: dict[str, list[int]] = {}
    for step in logic.steps:
        rows.setdefault(problem.named[step.task].car, []).append(step.row)
    if len(rows) < 2:
        return {}
    return {car: np.sort(_last(ends[several])) for car, several in rows.items()}


def _late(finishes: Finishes) -> float:
    return float(np.quantile(finishes, 0.8, method="inverted_cdf"))


def _drivers(logic: Logic, work_min: Finishes, finishes: Finishes) -> tuple[Driver, ...]:
    """The few tasks whose hours go with the finish, each made certain in turn."""
    spread = work_min - work_min.mean(axis=1, keepdims=True)
    with_finish = spread @ (finishes - finishes.mean())
    likely, late = logic.likely_min(), _late(finishes)
    found = []
    for row in np.argsort(-with_finish, kind="stable")[:MOST_DRIVERS]:
        certain = work_min.copy()
        certain[row] = likely[row]
        days = (late - _late(_finishes(logic, certain))) / 1440
        if days >= LEAST_DAYS:
            found.append(Driver(task=logic.steps[row].task, days_earlier=days))
    return tuple(sorted(found, key=lambda d: -d.days_earlier))


def _overtime(
    problem: PlanProblem,
    plan: Plan,
    held: frozenset[str],
    work_min: Finishes,
    finishes: Finishes,
) -> tuple[Overtime, ...]:
    late, found = _late(finishes), []
    for person in problem.people:
        logic = Logic(problem, plan, held=held, more_min={person.person: OVERTIME_MIN})
        finish = _late(_finishes(logic, work_min))
        worked = person.time.windows(
            first_weekday=problem.first_weekday, days=int(finish // 1440) + 1
        )
        days = (late - finish) / 1440
        if days >= LEAST_DAYS:
            hours = len(worked) * OVERTIME_MIN / 60
            found.append(Overtime(person=person.person, days_earlier=days, hours=hours))
    return tuple(sorted(found, key=lambda o: o.hours_a_day))
