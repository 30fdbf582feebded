"""How a workshop goes on when hours come out otherwise: what is late gives way to what is ready."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from asfound.plan.logic import Logic
from asfound.plan.open_grid import Minutes, Numbers, OpenGrid, OpenGrids
from asfound.plan.open_time import all_of, any_of
from asfound.plan.policy_again import ends_again
from asfound.plan.policy_standing import Standing
from asfound.plan.policy_tables import tables_of
from asfound.plan.policy_turns import Turns
from asfound.plan.step_times import NOBODY, windows_of
from asfound.plan.working_time import DAY_MIN

_TOGETHER = 300_000
_MOST_DAYS = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """How the work went in each draw; every array has the shape (tasks, draws).

    Parameters
    ----------
    order : ndarray
        Rows of the tasks in the order in which they were begun.
    team : ndarray
        Number of the team that did the task in each row.
    floor_min : ndarray
        Time before which the task in each row was not begun, whoever was free.
    start_min, end_min : ndarray
    """

    order: Numbers
    team: Numbers
    floor_min: Minutes
    start_min: Minutes
    end_min: Minutes


class Policy:
    """A plan as a rule for each draw.

    Parameters
    ----------
    logic : Logic
        The plan with its order.
    patience_min : float or ndarray
        How long after its time in the plan a task keeps its turn [min by the clock], in all draws
        or in each.

    Notes
    -----
    Until something is late the plan is kept: in its order of work of each person and place a task
    begins as soon as it can, also before its time in the plan. A task whose turn has come keeps
    it until its time in the plan and a patience beyond have passed: from then on, what comes after
    it in that order may be begun before it. A task that its planned team cannot begin by its time
    is taken up by whichever team with the trade is expected to end first, with mean hours and the
    days off that are known. Of several tasks that could begin at the same moment, the one that
    comes first in the plan does. Who has begun a task ends it. Nothing is looked ahead at but
    working time: how long a task takes is known when it has ended.

    This is a priority policy, the parallel schedule generation scheme played with drawn
    durations, with the order of the plan as its priorities and the starts of what is passed over
    as release times. With certain hours nothing is late, so that it gives the plan.

    References
    ----------
    Möhring, R. H., Radermacher, F. J. and Weiss, G. (1984), Stochastic scheduling problems I:
    general strategies, Zeitschrift für Operations Research 28, 193–260, for policies that know no
    more than what has happened. Stork, F. (2001), Stochastic resource-constrained project
    scheduling, thesis, TU Berlin, for priority policies and those that keep an order.
    Kolisch, R. (1996), Serial and parallel resource-constrained project scheduling methods
    revisited, EJOR 90, 320–333. Ballestín, F. (2007), When it is worthwhile to work with the
    stochastic RCPSP?, Journal of Scheduling 10, 153–166. All from memory.
    """

    def __init__(self, logic: Logic, *, patience_min: float | Minutes = 0.0) -> None:
        self.logic, self.problem, self.patience_min = logic, logic.problem, patience_min
        self.days = logic.days
        self.tables = tables_of(logic, days=self.days)
        self._one: dict[tuple[object, ...], OpenGrid] = {}

    def with_patience(self, patience_min: float | Minutes) -> Policy:
        """The same rule with another patience."""
        other = copy(self)
        other.patience_min = patience_min
        return other

    @property
    def together(self) -> int:
        """How many draws are best worked out together."""
        return max(250, min(2_000, _TOGETHER // max(1, self.tables.tasks_n)))

    def course(self, work_min: Minutes) -> Course:
        """How the work goes in each draw.

        Parameters
        ----------
        work_min : ndarray, shape (tasks, draws)
            Minutes of work in the order of ``logic.steps``, zero or more.
        """
        while True:
            standing = Standing(self.tables, self.grids(), draws=work_min.shape[1])
            turns = Turns(self.tables, standing, work_min, patience_min=self.patience_min)
            turns.play()
            course = Course(
                order=turns.order,
                team=turns.team,
                floor_min=turns.floor_min,
                start_min=turns.start_min,
                end_min=turns.end_min,
            )
            if self._knows(course.end_min):
                return course
            self.days *= 2

    def again(
        self,
        course: Course,
        work_min: Minutes,
        *,
        draws: Numbers,
        more_min: Mapping[str, int] = NOBODY,
    ) -> Minutes:
        """End of every task where hours or working time change and order and teams stay.

        Parameters
        ----------
        course : Course
        work_min : ndarray, shape (tasks, questions)
        draws : ndarray of int, shape (questions,)
            The draw of the course whose order and teams each question keeps.
        more_min : mapping of str to int
            Minutes that people work longer on each of their working days.
        """
        while True:
            standing = Standing(self.tables, self.grids(more_min), draws=len(draws))
            ends = ends_again(self.tables, standing, course, work_min, draws)
            if self._knows(ends):
                return ends
            self.days *= 2

    def _knows(self, ends: Minutes) -> bool:
        last = float(ends.max(initial=0.0))
        return last < (self.days - 7) * DAY_MIN or self.days > _MOST_DAYS

    def grids(self, more_min: Mapping[str, int] = NOBODY) -> OpenGrids:
        """Working time of every team."""
        windows = windows_of(self.problem, days=self.days, more_min=more_min)
        several, names = [*windows.values()], [*windows]
        grids = []
        for crew in self.tables.crews:
            own = crew or tuple(range(len(names)))
            longer = tuple((i, more_min[names[i]]) for i in own if names[i] in more_min)
            key = (crew, longer, self.days)
            if key not in self._one:
                self._one[key] = OpenGrid(self._together(crew, several))
            grids.append(self._one[key])
        return OpenGrids(grids)

    def _together(
        self, crew: tuple[int, ...], several: list[npt.NDArray[np.int64]]
    ) -> npt.NDArray[np.int64]:
        if crew:
            return all_of([several[i] for i in crew])
        always = np.array([[0, self.days * DAY_MIN]], dtype=np.int64)
        return any_of(several) if several else always
