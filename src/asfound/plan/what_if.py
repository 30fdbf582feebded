"""What drives the late end of a plan, and what a day earlier costs: one change in the same luck."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from asfound.plan.open_grid import Minutes
from asfound.plan.person import Person
from asfound.plan.plan import Progress
from asfound.plan.policy import Course, Policy
from asfound.plan.working_time import DAY_MIN

CHANCE = 0.8
"""That of the finish which is asked about."""
MOST_DRIVERS, MOST_ASKED = 6, 72
"""Tasks asked about for one finish, and for all of them together; one for each at least."""
OVERTIME_MIN = 60
LEAST_DAYS = 0.1
"""Days won below this are not told: the finish does not hang on that task or person."""
_ASKED, _LEAST_ASKED = 225_000, 100
"""Tasks times draws in which a question is answered, and the least of these draws."""
_AT_ONCE = 1_000_000
"""Tasks times draws of all the questions that are answered together."""


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
    """Questions of groups of tasks, each answered in draws that are there already.

    Parameters
    ----------
    policy : Policy
    work_min : ndarray, shape (tasks, draws)
        Minutes of work in each draw.
    course : Course
        How the work went in the first draws.
    groups : sequence of sequence of int
        Rows of the tasks whose last end is a finish: all, and those of each car.

    Notes
    -----
    The draws are the same with and without a change (common random numbers), and each keeps the
    order and the teams that it came to, so that the difference is the change's alone and shorter
    work never makes a finish later.

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
        self, policy: Policy, work_min: Minutes, course: Course, groups: Sequence[Sequence[int]]
    ) -> None:
        self.policy, self.course, self.groups = policy, course, groups
        asked = max(_LEAST_ASKED, _ASKED // len(work_min))
        self.draws = np.arange(min(asked, course.end_min.shape[1]))
        self.work_min = work_min[:, self.draws]
        self.likely = policy.logic.likely_min()
        self.finishes = self._finishes(course.end_min[:, self.draws])
        self.late = [_late(finishes) for finishes in self.finishes]

    def drivers(self, tell: Progress) -> list[tuple[Driver, ...]]:
        """The few tasks whose hours go with each finish, each made certain in turn."""
        strong = [self._going_with(finishes) for finishes in self.finishes]
        found: list[list[Driver]] = [[] for _ in self.groups]
        for row, won in self._days_won_by_certainty(sorted(set().union(*strong)), tell):
            for i, days in enumerate(won):
                if row in strong[i] and days >= LEAST_DAYS:
                    task = self.policy.logic.steps[row].task
                    found[i].append(Driver(task=task, days_earlier=days))
        return [tuple(sorted(one, key=lambda d: -d.days_earlier)) for one in found]

    def overtime(self, people: Sequence[Person], tell: Progress) -> list[tuple[Overtime, ...]]:
        """The people on whose time each finish hangs, an hour a day added to each in turn."""
        found: list[list[Overtime]] = [[] for _ in self.groups]
        for done, person in enumerate(people):
            tell(done / len(people))
            more = {person.person: OVERTIME_MIN}
            ends = self.policy.again(self.course, self.work_min, draws=self.draws, more_min=more)
            for i, days in enumerate(self._days_won(ends)):
                if days >= LEAST_DAYS:
                    worked = self._days_of(person, self.late[i] - days * DAY_MIN)
                    hours = worked * OVERTIME_MIN / 60
                    found[i].append(Overtime(person=person.person, days_earlier=days, hours=hours))
        return [tuple(sorted(one, key=lambda o: o.hours_a_day)) for one in found]

    def _going_with(self, finishes: Minutes) -> set[int]:
        spread = self.work_min @ (finishes - finishes.mean())
        most = max(1, min(MOST_DRIVERS, MOST_ASKED // len(self.groups)))
        return set(np.argsort(-spread, kind="stable")[:most].tolist())

    def _days_won_by_certainty(
        self, rows: Sequence[int], tell: Progress
    ) -> Iterator[tuple[int, list[float]]]:
        """Each task with the days that each group wins, several asked at once."""
        draws = len(self.draws)
        at_once = max(1, _AT_ONCE // self.work_min.size)
        for begin in range(0, len(rows), at_once):
            tell(begin / len(rows))
            some = rows[begin : begin + at_once]
            work = np.tile(self.work_min, len(some))
            for place, row in enumerate(some):
                work[row, place * draws : (place + 1) * draws] = self.likely[row]
            ends = self.policy.again(self.course, work, draws=np.tile(self.draws, len(some)))
            for place, row in enumerate(some):
                yield row, self._days_won(ends[:, place * draws : (place + 1) * draws])

    def _days_won(self, ends: Minutes) -> list[float]:
        return [
            (late - _late(finishes)) / DAY_MIN
            for late, finishes in zip(self.late, self._finishes(ends), strict=True)
        ]

    def _finishes(self, ends: Minutes) -> list[Minutes]:
        return [ends[rows].max(axis=0) for rows in self.groups]

    def _days_of(self, person: Person, finish_min: float) -> int:
        """Working days of a person until a time."""
        days = int(finish_min // DAY_MIN) + 1
        first_weekday = self.policy.problem.first_weekday
        return len(person.time.windows(first_weekday=first_weekday, days=days))


def _late(finishes: Minutes) -> float:
    return float(np.quantile(finishes, CHANCE, method="inverted_cdf"))
