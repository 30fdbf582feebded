"""The day that can be promised: the finish of a plan when its hours are in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from asfound.base import InputError
from asfound.plan.logic import Logic
from asfound.plan.person import Person
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

_SHARE_ENDS, _SHARE_DRIVERS = 0.3, 0.8
"""Of the work that is done when the finishes are known, and when the drivers are."""

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
    logic = Logic(problem, plan, held=held)
    tasks = [problem.named[step.task] for step in logic.steps]
    rng = np.random.default_rng(seed)
    work_min = 60 * draw_hours(tasks, draws=draws, rng=rng, shared=shared)
    ends = logic.ends(work_min)
    groups = _rows_by_car(problem, logic)
    if progress:
        progress(_SHARE_ENDS)
    few = slice(None, KEPT_DRAWS)
    asked = _Asked(logic, work_min[:, few], ends[:, few], list(groups.values()), progress)
    why = why and bool(ends.size)
    drivers = asked.drivers() if why else [()] * len(groups)
    overtime = asked.overtime(problem, plan, held) if why else [()] * len(groups)
    whole, *cars = (
        Promise(finishes_min=np.sort(_last(ends[rows])), drivers=late, overtime=more)
        for rows, late, more in zip(groups.values(), drivers, overtime, strict=True)
    )
    named = [car for car in groups if car is not None]
    return replace(whole, cars=dict(zip(named, cars, strict=True)))


def _last(ends: Finishes) -> Finishes:
    return np.asarray(ends.max(axis=0)) if len(ends) else np.zeros(ends.shape[1])


def _rows_by_car(problem: PlanProblem, logic: Logic) -> dict[str | None, list[int]]:
    """Rows of all tasks, then those of each car, where there are several."""
    cars: dict[str | None, list[int]] = {}
    for step in logic.steps:
        cars.setdefault(problem.named[step.task].car, []).append(step.row)
    everything: dict[str | None, list[int]] = {None: list(range(len(logic.steps)))}
    return everything | (cars if len(cars) > 1 else {})


def _late(finishes: Finishes) -> float:
    return float(np.quantile(finishes, 0.8, method="inverted_cdf"))


class _Asked:
    """What-if questions of the whole plan and of each car, one simulation for all of them."""

    def __init__(
        self,
        logic: Logic,
        work_min: Finishes,
        ends: Finishes,
        groups: list[list[int]],
        progress: Progress | None,
    ) -> None:
        self.logic, self.work_min, self.groups = logic, work_min, groups
        self.finishes = [_last(ends[rows]) for rows in groups]
        self.late = [_late(finishes) for finishes in self.finishes]
        self.progress = progress

    def _days_earlier(self, ends: Finishes) -> list[float]:
        """Days won of each group at a chance of 80 %."""
        after = (_late(_last(ends[rows])) for rows in self.groups)
        return [(late - now) / 1440 for late, now in zip(self.late, after, strict=True)]

    def _tell(self, begin: float, end: float, done: int, of: int) -> None:
        if self.progress:
            self.progress(begin + (end - begin) * done / of)

    def drivers(self) -> list[tuple[Driver, ...]]:
        """The few tasks whose hours go with each finish, each made certain in turn."""
        spread = self.work_min - self.work_min.mean(axis=1, keepdims=True)
        with_finish = [spread @ (finishes - finishes.mean()) for finishes in self.finishes]
        strong = [set(np.argsort(-one, kind="stable")[:MOST_DRIVERS]) for one in with_finish]
        likely = self.logic.likely_min()
        found: list[list[Driver]] = [[] for _ in self.groups]
        candidates = sorted(set().union(*strong))
        for done, row in enumerate(candidates):
            self._tell(_SHARE_ENDS, _SHARE_DRIVERS, done, len(candidates))
            certain = self.work_min.copy()
            certain[row] = likely[row]
            for i, days in enumerate(self._days_earlier(self.logic.ends(certain))):
                if row in strong[i] and days >= LEAST_DAYS:
                    found[i].append(Driver(task=self.logic.steps[row].task, days_earlier=days))
        return [tuple(sorted(one, key=lambda d: -d.days_earlier)) for one in found]

    def overtime(
        self, problem: PlanProblem, plan: Plan, held: frozenset[str]
    ) -> list[tuple[Overtime, ...]]:
        """The people on whose time each finish hangs, an hour a day added to each in turn."""
        found: list[list[Overtime]] = [[] for _ in self.groups]
        for done, person in enumerate(problem.people):
            self._tell(_SHARE_DRIVERS, 1.0, done, len(problem.people))
            logic = Logic(problem, plan, held=held, more_min={person.person: OVERTIME_MIN})
            for i, days in enumerate(self._days_earlier(logic.ends(self.work_min))):
                if days >= LEAST_DAYS:
                    finish = self.late[i] - days * 1440
                    hours = _days_in(person, problem, finish) * OVERTIME_MIN / 60
                    found[i].append(Overtime(person=person.person, days_earlier=days, hours=hours))
        return [tuple(sorted(one, key=lambda o: o.hours_a_day)) for one in found]


def _days_in(person: Person, problem: PlanProblem, finish_min: float) -> int:
    """Working days of a person until a time."""
    days = int(finish_min // 1440) + 1
    return len(person.time.windows(first_weekday=problem.first_weekday, days=days))
