"""The schedule's logic: who waits for whom once the order is settled, and where work then lands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from asfound.plan.open_time import OpenTime, all_of, any_of
from asfound.plan.plan import Placed, Plan
from asfound.plan.problem import PlanProblem
from asfound.plan.working_time import DAY_MIN, Windows, WorkingTime

Minutes = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One task with all that it waits for.

    Parameters
    ----------
    task : str
    row : int
        Its row in arrays of hours.
    waits : tuple of (int, int)
        Rows of the tasks before it, each with the minutes by the clock after its end: links, and
        the task before it of each of its people and places.
    not_before_min : int
    people : tuple of str
    """

    task: str
    row: int
    waits: tuple[tuple[int, int], ...]
    not_before_min: int
    people: tuple[str, ...]


class Logic:
    """A plan with its order held and its times let go.

    Parameters
    ----------
    problem : PlanProblem
    plan : Plan
        A plan of the problem.
    held : frozenset of str
        Tasks that have started: they stay at their starts.
    more_min : mapping of str to int
        Minutes that people work longer on each of their working days.
    """

    def __init__(
        self,
        problem: PlanProblem,
        plan: Plan,
        *,
        held: frozenset[str] = frozenset(),
        more_min: Mapping[str, int] | None = None,
    ) -> None:
        self.problem, self.more_min = problem, dict(more_min or {})
        self.held = held
        place = {name: i for i, name in enumerate(problem.order)}
        ordered = sorted(plan.placed, key=lambda p: (p.start_min, place[p.task]))
        self.row = {placed.task: row for row, placed in enumerate(ordered)}
        waits = self._waits(ordered)
        self.steps = tuple(
            Step(
                task=p.task,
                row=row,
                waits=() if p.task in held else tuple(sorted(waits[p.task])),
                not_before_min=p.start_min if p.task in held else self._not_before_min(p),
                people=p.people,
            )
            for row, p in enumerate(ordered)
        )
        self.days = 3 * (plan.finish_min // DAY_MIN + 1) + 60

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
        while True:
            ends = self._ends(work_min)
            if not ends.size or ends.max() < (self.days - 7) * DAY_MIN or self.days > 10_000:
                return ends
            self.days *= 2

    def _ends(self, work_min: Minutes) -> Minutes:
        windows = self._windows()
        shop = OpenTime(any_of(list(windows.values())) if windows else self._always())
        teams: dict[tuple[str, ...], OpenTime] = {(): shop}
        ends = np.empty_like(work_min)
        for step in self.steps:
            if step.people not in teams:
                teams[step.people] = OpenTime(all_of([windows[p] for p in step.people]))
            ready = np.full(work_min.shape[1], float(step.not_before_min))
            for before, lag_min in step.waits:
                np.maximum(ready, ends[before] + lag_min, out=ready)
            work = work_min[step.row]
            team = teams[step.people] if self._works(step) else shop
            passed = team.before(ready)
            ends[step.row] = np.where(work > 0, team.ends_at(passed + work), team.starts_at(passed))
        return ends

    def _works(self, step: Step) -> bool:
        """Whether it takes anybody's time; a mark in time only needs the shop to be open."""
        return self.problem.named[step.task].hours.high > 0

    def _always(self) -> Windows:
        return np.array([[0, self.days * DAY_MIN]], dtype=np.int64)

    def _windows(self) -> dict[str, Windows]:
        found = {}
        for person in self.problem.people:
            more = self.more_min.get(person.person, 0)
            time = person.time
            if more:
                minutes = tuple(min(m + more, DAY_MIN) if m else 0 for m in time.minutes)
                time = WorkingTime(minutes=minutes, away=time.away, begins_min=time.begins_min)
            found[person.person] = time.windows(
                first_weekday=self.problem.first_weekday, days=self.days
            )
        return found

    def likely_min(self) -> Minutes:
        """Likely minutes of work of every task, in the order of ``row``."""
        named = self.problem.named
        return np.array([named[s.task].hours.minutes for s in self.steps], dtype=np.float64)
