"""The schedule's logic: who waits for whom once the order is settled, and where work then lands."""

from __future__ import annotations

import numpy as np

from asfound.plan.open_grid import Minutes
from asfound.plan.plan import Placed, Plan
from asfound.plan.problem import PlanProblem
from asfound.plan.step import Step
from asfound.plan.step_times import StepTimes
from asfound.plan.working_time import DAY_MIN

__all__ = ["Logic", "Minutes", "Step"]


class Logic:
    """A plan with its order held and its times let go.

    Parameters
    ----------
    problem : PlanProblem
    plan : Plan
        A plan of the problem.
    held : frozenset of str
        Tasks that have started: they stay at their starts.
    """

    def __init__(
        self,
        problem: PlanProblem,
        plan: Plan,
        *,
        held: frozenset[str] = frozenset(),
    ) -> None:
        self.problem, self.held = problem, held
        place = {name: i for i, name in enumerate(problem.order)}
        ordered = sorted(plan.placed, key=lambda p: (p.start_min, place[p.task]))
        self.row = {placed.task: row for row, placed in enumerate(ordered)}
        self.planned_min = {placed.task: placed.start_min for placed in ordered}
        waits = self._waits(ordered)
        self.steps = tuple(
            Step(
                task=p.task,
                row=row,
                waits=() if p.task in held else tuple(sorted(waits[p.task])),
                not_before_min=p.start_min if p.task in held else self._not_before_min(p),
                people=p.people,
                works=problem.named[p.task].hours.high > 0,
            )
            for row, p in enumerate(ordered)
        )
        self.days = 3 * (plan.finish_min // DAY_MIN + 1) + 60
        self._plain: dict[int, StepTimes] = {}

    def _not_before_min(self, placed: Placed) -> int:
        """Its own first start, and the end of a time in which one of its bays was shut."""
        task = self.problem.named[placed.task]
        shut = (b.shut_until_min(placed.start_min) for b in self.problem.bays if b.bay in task.bays)
        return max([task.not_before_min, *shut])

    def _waits(self, ordered: list[Placed]) -> dict[str, set[tuple[int, int]]]:
        waits: dict[str, set[tuple[int, int]]] = {p.task: set() for p in ordered}
        for link in self.problem.links:
            waits[link.after].add((self.row[link.before], link.lag_min))
        work = [p for p in ordered if self.problem.named[p.task].hours.minutes]
        last: dict[str, str] = {}
        for placed in work:
            for person in placed.people:
                if person in last:
                    waits[placed.task].add((self.row[last[person]], 0))
                last[person] = placed.task
        for bay in self.problem.bays:
            self._waits_for_places(bay.bay, bay.count, work, waits)
        return waits

    def _waits_for_places(
        self, bay: str, count: int, work: list[Placed], waits: dict[str, set[tuple[int, int]]]
    ) -> None:
        """Each takes the places that have been free for longest."""
        free_at: list[tuple[int, str]] = [(-1, "")] * count
        for placed in work:
            need = self.problem.named[placed.task].bays.get(bay, 0)
            if need:
                free_at.sort()
                for _, before in free_at[:need]:
                    if before:
                        waits[placed.task].add((self.row[before], 0))
                free_at[:need] = [(placed.end_min, placed.task)] * need

    def ends(self, work_min: Minutes) -> Minutes:
        """End of every task [min] where the tasks take so long.

        Parameters
        ----------
        work_min : ndarray, shape (tasks, draws)
            Minutes of work in the order of ``row``, zero or more.
        """
        ends = np.empty_like(work_min)
        while True:
            times = self._times()
            for step in self.steps:
                before = [ends[row] for row, _ in step.waits]
                ends[step.row] = times.end(step, before, work_min[step.row])
            if not ends.size or self._knows(float(ends.max())):
                return ends
            self.days *= 2

    def _knows(self, time_min: float) -> bool:
        """Whether working time was worked out as far as that, or so far is too far."""
        return time_min < (self.days - 7) * DAY_MIN or self.days > 10_000

    def _times(self) -> StepTimes:
        if self.days not in self._plain:
            self._plain = {self.days: StepTimes(self.problem, days=self.days)}
        return self._plain[self.days]

    def likely_min(self) -> Minutes:
        """Likely minutes of work of every task, in the order of ``row``."""
        named = self.problem.named
        return np.array([named[s.task].hours.minutes for s in self.steps], dtype=np.float64)
