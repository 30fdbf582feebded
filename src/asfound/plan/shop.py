"""The shop on a scale of whole ticks of open time: what greedy planning and the solver share."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from asfound.plan.breaks import Breaks
from asfound.plan.closed_days import closed_spells
from asfound.plan.open_time import OpenTime, all_of, any_of, at_least
from asfound.plan.person import Bay, Person
from asfound.plan.problem import PlanProblem
from asfound.plan.task import Task, TaskLink
from asfound.plan.teams import splits, together_min
from asfound.plan.working_time import DAY_MIN, Windows

Closed = npt.NDArray[np.int16]
MOST_TEAMS = 40
"""Ways to make up a team that are tried first; more would only slow what is quick on purpose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """People who are alike: the same trades and the same working time."""

    people: tuple[Person, ...]
    trades: frozenset[str]
    windows: Windows
    breaks: Breaks


class Shop:
    """A problem over its first ``days`` days.

    Parameters
    ----------
    problem : PlanProblem
    days : int
        More than zero.
    """

    def __init__(self, problem: PlanProblem, *, days: int) -> None:
        self.problem, self.days = problem, days
        self.windows = {
            p.person: p.time.windows(first_weekday=problem.first_weekday, days=days)
            for p in problem.people
        }
        always = np.array([[0, days * DAY_MIN]], dtype=np.int64)
        self._work = any_of(list(self.windows.values())) if self.windows else always
        self.open = OpenTime(
            any_of([self._work, closed_spells(problem.bays, self._work, days=days)])
        )
        self.tick_min = math.gcd(*self._amounts()) or 1
        self.total = self.open.total // self.tick_min
        self.crews = tuple(self._crews())
        self._teams: dict[frozenset[int], Breaks] = {}
        self._splits: dict[tuple[str, int], list[dict[int, int]]] = {}
        self._lags: dict[tuple[int, bool], list[int]] = {}

    def _amounts(self) -> Iterator[int]:
        """Every amount of time that a plan can be made of [min]."""
        for task in self.problem.tasks:
            yield task.hours.minutes
            yield task.not_before_min
            yield task.due_min or 0
        for link in self.problem.links:
            yield link.lag_min
        for windows in (self.open.begins, self.open.ends, *self.windows.values()):
            yield from np.unique(windows % DAY_MIN).tolist()
        yield DAY_MIN

    def _crews(self) -> Iterator[Crew]:
        alike: dict[object, list[Person]] = {}
        for person in self.problem.people:
            alike.setdefault((frozenset(person.trades), person.time), []).append(person)
        for people in alike.values():
            windows = self.windows[people[0].person]
            yield Crew(
                people=tuple(people),
                trades=frozenset(people[0].trades),
                windows=windows,
                breaks=Breaks(windows, shop=self.open, tick_min=self.tick_min),
            )

    def able(self, task: Task) -> tuple[int, ...]:
        """Crews that have the task's trade."""
        if not task.people:
            return ()
        return tuple(i for i, crew in enumerate(self.crews) if task.trade in crew.trades)

    def teams(self, task: Task) -> list[dict[int, int]]:
        """Teams that can do the task, as people by crew: the least mixed first, not too many."""
        return self._every_team(task)[:MOST_TEAMS]

    def further_teams(self, task: Task) -> Iterator[dict[int, int]]:
        """Teams beyond those that are in together for as long as the task takes."""
        for team in self._every_team(task)[MOST_TEAMS:]:
            windows = [self.crews[crew].windows for crew in team]
            if together_min(windows, days=self.days) >= task.hours.minutes:
                yield team

    def _every_team(self, task: Task) -> list[dict[int, int]]:
        key = (task.trade, task.people)
        if key not in self._splits:
            sizes = [len(crew.people) for crew in self.crews]
            self._splits[key] = splits(self.able(task), sizes, task.people)
        return self._splits[key]

    def team(self, crews: frozenset[int]) -> Breaks:
        """Breaks of a team with people from all of these crews."""
        if crews not in self._teams:
            windows = [self.crews[i].windows for i in sorted(crews)]
            self._teams[crews] = Breaks(
                all_of(windows) if windows else self._work,
                shop=self.open,
                tick_min=self.tick_min,
            )
        return self._teams[crews]

    @cached_property
    def floors(self) -> Mapping[str, int]:
        """Tick before which each task may not start, by its own first start."""
        return {task.task: self.tick_of(task.not_before_min) for task in self.problem.tasks}

    @cached_property
    def dues(self) -> Mapping[str, int]:
        """Tick by which each task that is due must have ended."""
        tasks = self.problem.tasks
        return {t.task: self.tick_of(t.due_min) for t in tasks if t.due_min is not None}

    @cached_property
    def loosest(self) -> Mapping[str, Breaks]:
        """Breaks of each task's trade, if people could hand it over to each other at will."""
        found: dict[tuple[str, int], Breaks] = {}
        for task in self.problem.tasks:
            key = (task.trade, task.people)
            if key not in found:
                several = [self.windows[p.person] for p in self.problem.able(task.trade)]
                enough = at_least(several, task.people) if task.people else self._work
                found[key] = Breaks(enough, shop=self.open, tick_min=self.tick_min)
        return {task.task: found[task.trade, task.people] for task in self.problem.tasks}

    def closed(self, bay: Bay) -> Closed:
        """How many of a bay's places are closed, by tick."""
        places = np.zeros(self.total, dtype=np.int16)
        for first, last in bay.closed:
            places[self.tick_of(first * DAY_MIN) : self.tick_of((last + 1) * DAY_MIN)] += 1
        return places

    def ticks(self, minutes: int) -> int:
        """Whole ticks of a task's length."""
        return minutes // self.tick_min

    def tick_of(self, time_min: float) -> int:
        """Ticks of open time before a time."""
        return int(self.open.before(time_min)) // self.tick_min

    def time_of(self, tick: int, *, ending: bool) -> int:
        """Time [min] at which work ends, or begins, at a tick."""
        at = self.open.ends_at if ending else self.open.starts_at
        return int(at(tick * self.tick_min))

    def days_to(self, tick: int) -> float:
        """Working days of the shop from the plan's first to a tick, the last one in part."""
        return self._day_scale(tick * self.tick_min)

    def _day_scale(self, open_min: float) -> float:
        work, time_min = OpenTime(self._work), self.open.ends_at(open_min)
        at_midnights = np.unique(work.before(np.arange(self.days + 1) * DAY_MIN))
        return float(np.interp(work.before(time_min), at_midnights, np.arange(len(at_midnights))))

    def earliest_after(self, link: TaskLink, end: int) -> int:
        """First tick at which the later task of a link may start, the earlier one ending there."""
        return end if not link.lag_min else self.lags(link)[end]

    def lags(self, link: TaskLink) -> list[int]:
        """First tick for the later task, by the tick at which the earlier one ends."""
        stands = not self.problem.named[link.before].hours.minutes
        key = (link.lag_min, stands)
        if key not in self._lags:
            passed = np.arange(self.total) * self.tick_min
            ends = self.open.starts_at(passed) if stands else self.open.ends_at(passed)
            over = self.open.before(ends + link.lag_min) // self.tick_min
            over[ends + link.lag_min >= self.open.ends[-1]] = self.total
            self._lags[key] = [*over.astype(int).tolist(), self.total]
        return self._lags[key]
