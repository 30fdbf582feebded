"""Where the steps of a settled order land in working time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

from asfound.plan.open_grid import Minutes, OpenGrid
from asfound.plan.open_time import all_of, any_of
from asfound.plan.problem import PlanProblem
from asfound.plan.step import Step
from asfound.plan.working_time import DAY_MIN, Windows, WorkingTime

_SHOP: tuple[str, ...] = ()
NOBODY: Mapping[str, int] = MappingProxyType({})


def windows_of(
    problem: PlanProblem, *, days: int, more_min: Mapping[str, int] = NOBODY
) -> dict[str, Windows]:
    """When each person works, some of them so many minutes longer on each working day."""
    return {
        person.person: _longer(person.time, more_min.get(person.person, 0)).windows(
            first_weekday=problem.first_weekday, days=days
        )
        for person in problem.people
    }


class StepTimes:
    """Working time of the shop and of every team.

    Parameters
    ----------
    problem : PlanProblem
    days : int
        How many days are worked out.
    """

    def __init__(self, problem: PlanProblem, *, days: int) -> None:
        self._windows = windows_of(problem, days=days)
        always = np.array([[0, days * DAY_MIN]], dtype=np.int64)
        self._shop = any_of(list(self._windows.values())) if self._windows else always
        self._grids: dict[tuple[str, ...], OpenGrid] = {}

    def end(self, step: Step, before: Sequence[Minutes], work_min: Minutes) -> Minutes:
        """End of a step in each draw.

        Parameters
        ----------
        step : Step
        before : sequence of ndarray
            Ends of what it waits for, in the order of ``step.waits``.
        work_min : ndarray
            Minutes that it takes.
        """
        ready = np.full(work_min.shape, float(step.not_before_min))
        for ends, (_, lag_min) in zip(before, step.waits, strict=True):
            np.maximum(ready, ends + lag_min if lag_min else ends, out=ready)
        grid = self._grid(_team(step))
        passed = grid.before(ready)
        ends_min = grid.ends_at(passed + work_min)
        if work_min.all():
            return ends_min
        return np.where(work_min > 0, ends_min, grid.starts_at(passed))

    def _grid(self, team: tuple[str, ...]) -> OpenGrid:
        if team not in self._grids:
            together: Windows = all_of([self._windows[p] for p in team]) if team else self._shop
            self._grids[team] = OpenGrid(together)
        return self._grids[team]


def _team(step: Step) -> tuple[str, ...]:
    return step.people if step.works else _SHOP


def _longer(time: WorkingTime, more_min: int) -> WorkingTime:
    if not more_min:
        return time
    minutes = tuple(min(m + more_min, DAY_MIN) if m else 0 for m in time.minutes)
    return WorkingTime(minutes=minutes, away=time.away, begins_min=time.begins_min)
