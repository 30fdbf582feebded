"""What drives the late end of a plan, and what a day earlier costs: one change in the same luck."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from asfound.plan.logic import Draws, Logic, Minutes
from asfound.plan.person import Person
from asfound.plan.plan import Progress
from asfound.plan.working_time import DAY_MIN

CHANCE = 0.8
"""That of the finish which is asked about."""
MOST_DRIVERS = 6
OVERTIME_MIN = 60
LEAST_DAYS = 0.1
"""Days won below this are not told: the finish does not hang on that task or person."""
_ROUNDING_MIN = 1e-6


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


class WhatIf:
    """Questions of groups of tasks, each answered in the draws that are there already.

    Parameters
    ----------
    logic : Logic
    work_min, ends : ndarray, shape (tasks, draws)
        Minutes of work in each draw, and the ends that go with them.
    groups : sequence of sequence of int
        Rows of the tasks whose last end is a finish: all, and those of each car.

    Notes
    -----
    The draws are the same with and without a change (common random numbers), so that the
    difference is the change's. Only what follows the change is worked out again.

    What drives a finish is looked for among the few tasks whose hours go with it most in the draws
    (their *cruciality*), and told by making each certain.

    References
    ----------
    Williams, T. M. (1992), Criticality in stochastic networks, Journal of the Operational Research
    Society 43(4), 353–357, for why the hours that go with the finish are looked at rather than how
    often a task is critical (from memory; he takes the correlation, here the covariance is taken,
    which also asks how many days are in it).
    """

    def __init__(
        self, logic: Logic, work_min: Minutes, ends: Minutes, groups: Sequence[Sequence[int]]
    ) -> None:
        self.logic, self.work_min, self.ends = logic, work_min, ends
        self.likely = logic.likely_min()
        self.last = [logic.last_of(rows) for rows in groups]
        self.finishes = [ends[rows].max(axis=0) for rows in self.last]
        self.late = [_late(finishes) for finishes in self.finishes]

    def drivers(self, tell: Progress) -> list[tuple[Driver, ...]]:
        """The few tasks whose hours go with each finish, each made certain in turn."""
        strong = [self._going_with(finishes) for finishes in self.finishes]
        found: list[list[Driver]] = [[] for _ in self.last]
        candidates = sorted(set().union(*strong))
        for done, row in enumerate(candidates):
            tell(done / len(candidates))
            asked = [i for i, rows in enumerate(strong) if row in rows and self._may_win(row, i)]
            certain = {row: float(self.likely[row])}
            for i, days in self._days_earlier(asked, certain_min=certain):
                if days >= LEAST_DAYS:
                    found[i].append(Driver(task=self.logic.steps[row].task, days_earlier=days))
        return [tuple(sorted(one, key=lambda d: -d.days_earlier)) for one in found]

    def overtime(self, people: Sequence[Person], tell: Progress) -> list[tuple[Overtime, ...]]:
        """The people on whose time each finish hangs, an hour a day added to each in turn."""
        found: list[list[Overtime]] = [[] for _ in self.last]
        everything = range(len(self.last))
        for done, person in enumerate(people):
            tell(done / len(people))
            more = {person.person: OVERTIME_MIN}
            for i, days in self._days_earlier(everything, more_min=more):
                if days >= LEAST_DAYS:
                    worked = self._days_of(person, self.late[i] - days * DAY_MIN)
                    hours = worked * OVERTIME_MIN / 60
                    found[i].append(Overtime(person=person.person, days_earlier=days, hours=hours))
        return [tuple(sorted(one, key=lambda o: o.hours_a_day)) for one in found]

    def _going_with(self, finishes: Minutes) -> set[int]:
        spread = self.work_min @ (finishes - finishes.mean())
        return set(np.argsort(-spread, kind="stable")[:MOST_DRIVERS].tolist())

    def _may_win(self, row: int, group: int) -> bool:
        """False where certain hours cannot win as much as would be told.

        A draw in which the task takes less than its likely hours only becomes later by certainty,
        and one that was early enough at best stays so. What is left are late draws in which it
        takes longer: if too few of them become early enough, the others need not be asked.
        """
        finishes, likely = self.finishes[group], self.likely[row]
        enough = self.late[group] - LEAST_DAYS * DAY_MIN + _ROUNDING_MIN
        draws = np.flatnonzero((self.work_min[row] > likely) & (finishes > enough))
        at_best = finishes.copy()
        moved = self._moved([group], certain_min={row: float(likely)}, draws=draws)
        at_best[draws] = self._finish(moved, group, draws)
        return _late(at_best) <= enough

    def _days_earlier(self, groups: Sequence[int], **change: Any) -> Iterator[tuple[int, float]]:
        """Groups with the days won of each by a change, as ``Logic.moved`` takes it."""
        if groups:
            moved = self._moved(groups, **change)
            for i in groups:
                yield i, (self.late[i] - _late(self._finish(moved, i))) / DAY_MIN

    def _moved(self, groups: Sequence[int], **change: Any) -> Mapping[int, Minutes]:
        last_row = max(row for i in groups for row in self.last[i])
        return self.logic.moved(self.work_min, self.ends, last_row=last_row, **change)

    def _finish(
        self, moved: Mapping[int, Minutes], group: int, draws: Draws = slice(None)
    ) -> Minutes:
        rows = self.last[group]
        if not any(row in moved for row in rows):
            return np.asarray(self.finishes[group][draws])
        return np.asarray(np.max([moved.get(r, self.ends[r, draws]) for r in rows], axis=0))

    def _days_of(self, person: Person, finish_min: float) -> int:
        """Working days of a person until a time."""
        days = int(finish_min // DAY_MIN) + 1
        first_weekday = self.logic.problem.first_weekday
        return len(person.time.windows(first_weekday=first_weekday, days=days))


def _late(finishes: Minutes) -> float:
    return float(np.quantile(finishes, CHANCE, method="inverted_cdf"))
