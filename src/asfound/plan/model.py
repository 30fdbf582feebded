"""The schedule as a constraint model for CP-SAT, on the shop's scale of ticks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import numpy as np
from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.latest import latest_ends
from asfound.plan.model_team import Team, held_team, new_team
from asfound.plan.person import Bay
from asfound.plan.reach import Reach
from asfound.plan.shop import Shop
from asfound.plan.task import Task, TaskLink


class TooSoonError(Exception):
    """A task is due before it can end, or no plan is as short as that; the text is its name."""


class Model:
    """One start, end and team a task; people and places are never taken twice.

    Parameters
    ----------
    shop : Shop
    reach : mapping of str to Reach
    least, most : int
        Ticks between which the finish lies.
    fixed : Draft or None
        Tasks that stay where they are.
    """

    def __init__(
        self,
        shop: Shop,
        reach: Mapping[str, Reach],
        *,
        least: int,
        most: int,
        fixed: Draft | None = None,
    ) -> None:
        self.shop, self.reach, self.most = shop, reach, most
        self.fixed = fixed or Draft(start={}, end={}, crews={})
        latest = latest_ends(shop, most, fixed=self.fixed)
        if latest is None:
            raise TooSoonError(str(most))
        self.latest = latest
        self.cp = cp_model.CpModel()
        self.finish = self.cp.new_int_var(least, most, "finish")
        self.start: dict[str, cp_model.IntVar] = {}
        self.teams: dict[str, Team] = {}
        for name in shop.problem.order:
            self._add_task(shop.problem.named[name])
        for link in shop.problem.links:
            self._add_link(link)
        self._add_people()
        self._add_places()

    def _add_task(self, task: Task) -> None:
        name, tail = task.task, self.reach[task.task].tail
        if name in self.fixed.start:
            self._hold(task)
        else:
            first, last = self._span(task)
            start = self.cp.new_int_var(first, last, f"start of {name}")
            self.start[name] = start
            self.teams[name] = new_team(self.cp, self.shop, task, start, first=first, last=last)
            self.cp.add(self.teams[name].end <= last)
        self.cp.add(self.finish >= self.teams[name].end + tail)

    def _hold(self, task: Task) -> None:
        start, end = self.fixed.start[task.task], self.fixed.end[task.task]
        self.start[task.task] = self.cp.new_constant(start)
        self.teams[task.task] = held_team(
            self.cp, self.start[task.task], ticks=end - start, crews=self.fixed.crews[task.task]
        )

    def _span(self, task: Task) -> tuple[int, int]:
        """Ticks between which the task lies whole; too few of them where it is due too soon."""
        reach, last = self.reach[task.task], self.latest[task.task]
        if last < reach.end:
            raise TooSoonError(task.task)
        return reach.start, last

    def _add_link(self, link: TaskLink) -> None:
        if link.after in self.fixed.start:
            return  # it has started, whatever came before it
        self.cp.add(self.start[link.after] >= self.teams[link.before].end)
        if link.lag_min:
            self._add_lag(link)

    def _add_lag(self, link: TaskLink) -> None:
        """Piece by piece: the first start is either an end shifted, or one tick for many ends."""
        table = self.shop.lags(link)[: self.most + 1]
        end, start = self.teams[link.before].end, self.start[link.after]
        chosen = []
        for first, last, slope in _pieces(table, self.reach[link.before].end):
            literal = self.cp.new_bool_var("")
            least = end + (table[first] - first) if slope else table[first]
            self.cp.add(end >= first).only_enforce_if(literal)
            self.cp.add(end <= last).only_enforce_if(literal)
            self.cp.add(start >= least).only_enforce_if(literal)
            chosen.append(literal)
        self.cp.add_exactly_one(chosen)

    def _add_people(self) -> None:
        for index, crew in enumerate(self.shop.crews):
            taken = [t.taken[index] for t in self.teams.values() if index in t.taken]
            if taken:
                intervals, counts = zip(*taken, strict=True)
                self.cp.add_cumulative(intervals, counts, len(crew.people))
        self._add_trades()

    def _add_trades(self) -> None:
        """What follows from the above, said once more where a trade has several crews."""
        for trade in sorted({task.trade for task in self.shop.problem.tasks if task.people}):
            tasks = [t for t in self.shop.problem.tasks if t.people and t.trade == trade]
            if len(self.shop.able(tasks[0])) > 1:
                self.cp.add_cumulative(
                    [self.teams[t.task].interval for t in tasks],
                    [t.people for t in tasks],
                    len(self.shop.problem.able(trade)),
                )

    def _add_places(self) -> None:
        for bay in self.shop.problem.bays:
            tasks = [t for t in self.shop.problem.tasks if bay.bay in t.bays]
            if tasks:
                shut = list(self._closed(bay, tasks))
                self.cp.add_cumulative(
                    [*(self.teams[t.task].interval for t in tasks), *(one for one, _ in shut)],
                    [*(t.bays[bay.bay] for t in tasks), *(places for _, places in shut)],
                    bay.count,
                )

    def _closed(self, bay: Bay, tasks: list[Task]) -> Iterator[tuple[cp_model.IntervalVar, int]]:
        """Spells in which places are closed; whoever has begun in one of them stays there."""
        free = np.full(self.shop.total, bay.count, dtype=np.int64)
        for task in tasks:
            if task.task in self.fixed.start:
                start, end = self.fixed.start[task.task], self.fixed.end[task.task]
                free[start:end] -= task.bays[bay.bay]
        shut = np.minimum(self.shop.closed(bay), np.maximum(free, 0))[: self.most]
        edges = np.flatnonzero(np.diff(shut, prepend=0, append=0)).tolist()
        for first, last in pairwise(edges):
            if shut[first]:
                yield self.cp.new_fixed_size_interval_var(first, last - first, ""), int(shut[first])

    def hint(self, draft: Draft) -> None:
        """Let the search begin at a plan that is known."""
        self.cp.clear_hints()  # type: ignore[no-untyped-call]  # the solver types part of itself
        for name, start in self.start.items():
            if name not in self.fixed.start:
                self.cp.add_hint(start, draft.start[name])
            self.teams[name].hint(self.cp, draft, name)

    def read(self, solver: cp_model.CpSolver) -> Draft:
        """The plan that the solver found."""
        return Draft(
            start={name: solver.value(start) for name, start in self.start.items()},
            end={name: solver.value(team.end) for name, team in self.teams.items()},
            crews={name: team.read(solver) for name, team in self.teams.items()},
        )


def _pieces(table: Sequence[int], low: int) -> Iterator[tuple[int, int, int]]:
    """Runs of ends, first to last, over which the first start stays (0) or moves along (1)."""
    first = low
    while first < len(table):
        last = first
        slope = table[first + 1] - table[first] if first + 1 < len(table) else 0
        if slope in (0, 1):
            while last + 1 < len(table) and table[last + 1] - table[last] == slope:
                last += 1
        yield first, last, slope
        first = last + 1
