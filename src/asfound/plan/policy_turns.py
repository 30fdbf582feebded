"""The rule of going on, played in many draws at once: one task begins in each at every turn."""

from __future__ import annotations

import numpy as np

from asfound.plan.open_grid import Minutes, Numbers
from asfound.plan.policy_standing import EPS_MIN, Standing
from asfound.plan.policy_tables import Tables

_MORE_ROOM = 8


class Turns:
    """One play in each draw.

    Parameters
    ----------
    tables : Tables
    standing : Standing
        With nothing taken yet.
    work_min : ndarray, shape (tasks, draws)
    patience_min : float or ndarray, shape (draws,)
        How long after its time in the plan a task is not passed over by what comes after it.

    Notes
    -----
    In each draw a few tasks could be next: those that wait for nothing along the links but for
    what has begun, so that its end is known. The one that can begin first does; nothing that is
    begun later can be in its way, for nothing can begin sooner. A task that could be next keeps
    its start until somebody or some place of it is taken.
    """

    def __init__(
        self,
        tables: Tables,
        standing: Standing,
        work_min: Minutes,
        *,
        patience_min: float | Minutes,
    ) -> None:
        self.tables, self.standing = tables, standing
        tasks, draws = work_min.shape
        self._all = np.arange(draws)
        self.work_min = work_min
        self.order = np.empty((tasks, draws), dtype=np.intp)
        self.team = np.empty((tasks, draws), dtype=np.intp)
        self.floor_min = np.zeros((tasks, draws))
        self.start_min = np.zeros((tasks, draws))
        self.end_min = np.zeros((tasks, draws))
        self._ready = np.repeat(tables.first_min[:, None], draws, axis=1)
        self._before = np.repeat(tables.before_n[:, None].astype(np.int32), draws, axis=1)
        self._waiting_min = tables.planned_min[:, None] + np.broadcast_to(patience_min, draws)
        self._waiting_min[-1] = 0.0
        self._make_room(draws)

    def _make_room(self, draws: int) -> None:
        """Places for tasks that could be next, each with its start, floor and team."""
        first = np.flatnonzero(self.tables.before_n[:-1] == 0)
        room, never = len(first) + _MORE_ROOM, self.tables.tasks_n
        self._next = np.full((room, draws), never, dtype=np.intp)
        self._next[: len(first)] = first[:, None]
        self._start = np.full((room, draws), np.inf)
        self._floor = np.zeros((room, draws))
        self._with = np.zeros((room, draws), dtype=np.intp)
        self._stale = self._next < never

    def play(self) -> None:
        """Begin and end every task in every draw."""
        for turn in range(self.tables.tasks_n):
            self._look_anew()
            place = self._first()
            task, team = self._next[place, self._all], self._with[place, self._all]
            start = self._start[place, self._all]
            end = self.standing.end(task, team, start, self.work_min[task, self._all])
            self.order[turn] = task
            self.team[task, self._all] = team
            self.floor_min[task, self._all] = self._floor[place, self._all]
            self.start_min[task, self._all] = start
            self.end_min[task, self._all] = end
            self._waiting_min[task, self._all] = 0.0
            self.standing.take(task, team, end)
            self._leave(place)
            self._tell(task, team, end)

    def _first(self) -> Numbers:
        """Where the task stands that can begin first, and of several the first in the plan."""
        soonest = self._start.min(axis=0) + EPS_MIN
        tied = np.where(self._start <= soonest, self._next, self.tables.tasks_n + 1)
        return np.asarray(tied.argmin(axis=0))

    def _leave(self, place: Numbers) -> None:
        self._next[place, self._all] = self.tables.tasks_n
        self._start[place, self._all] = np.inf

    def _tell(self, task: Numbers, team: Numbers, end: Minutes) -> None:
        """Let all know that it is taken up: who waits for it, or for its people and places."""
        tables = self.tables
        marks = tables.marks[self._next]
        self._stale = (marks & tables.marks[task]) != 0
        self._stale |= (tables.team_marks[self._with] & tables.team_marks[team]) != 0
        self._stale &= self._next < tables.tasks_n
        for after, lag in zip(tables.after[task].T, tables.lag_min[task].T, strict=True):
            self._ready[after, self._all] = np.maximum(self._ready[after, self._all], end + lag)
            self._before[after, self._all] -= 1
            draws = np.flatnonzero((self._before[after, self._all] == 0) & (after < tables.tasks_n))
            if len(draws):
                self._come(after[draws], draws)

    def _come(self, task: Numbers, draw: Numbers) -> None:
        """Tasks that could be next from now on, one in each of some draws."""
        never = self.tables.tasks_n
        place = (self._next[:, draw] == never).argmax(axis=0)
        if (self._next[place, draw] != never).any():
            more = (_MORE_ROOM, self._next.shape[1])
            self._next = np.vstack((self._next, np.full(more, never, dtype=np.intp)))
            self._start = np.vstack((self._start, np.full(more, np.inf)))
            self._floor = np.vstack((self._floor, np.zeros(more)))
            self._with = np.vstack((self._with, np.zeros(more, dtype=np.intp)))
            self._stale = np.vstack((self._stale, np.zeros(more, dtype=bool)))
            place = (self._next[:, draw] == never).argmax(axis=0)
        self._next[place, draw] = task
        self._stale[place, draw] = True

    def _look_anew(self) -> None:
        """Work out when the tasks can begin that were moved by the last turn."""
        place, draw = np.nonzero(self._stale)
        task, tables = self._next[place, draw], self.tables
        planned = tables.planned_min[task]
        floor = self._last_in_turn(task, draw)
        ready = np.maximum(self._ready[task, draw], floor)
        ready = self.standing.places_from(task, draw, ready)
        team, expected = tables.teams[task, 0], tables.expected_min[task]
        start, end = self.standing.span(team, draw, ready, expected)
        late = np.flatnonzero(start > planned + EPS_MIN)
        if len(late):
            team[late], start[late], end[late] = self._quickest(
                task[late], draw[late], ready[late], (team[late], start[late], end[late])
            )
            self._put_off(late, task, team, draw, start, end, floor)
        self._start[place, draw] = start
        self._floor[place, draw] = floor
        self._with[place, draw] = team

    def _last_in_turn(self, task: Numbers, draw: Numbers) -> Minutes:
        """Until when it waits for those whose turn is before it and that are not begun."""
        floor = np.zeros(len(task))
        for before in self.tables.in_turn[task].T:
            np.maximum(floor, self._waiting_min[before, draw], out=floor)
        return floor

    def _quickest(
        self,
        task: Numbers,
        draw: Numbers,
        ready: Minutes,
        planned: tuple[Numbers, Minutes, Minutes],
    ) -> tuple[Numbers, Minutes, Minutes]:
        """Team that is expected to end first, the planned one where no other is sooner."""
        (team, start, end), expected = planned, self.tables.expected_min[task]
        for choice in range(1, int(self.tables.teams_n[task].max())):
            other = self.tables.teams[task, choice]
            begins, ends = self.standing.span(other, draw, ready, expected)
            sooner = ends < end - EPS_MIN
            team = np.where(sooner, other, team)
            start = np.where(sooner, begins, start)
            end = np.where(sooner, ends, end)
        return team, start, end

    def _put_off(
        self,
        late: Numbers,
        task: Numbers,
        team: Numbers,
        draw: Numbers,
        start: Minutes,
        end: Minutes,
        floor: Minutes,
    ) -> None:
        """Keep what is late out of closed places."""
        shut = self.tables.shut_until_min.max(axis=1, initial=-1.0) > 0
        meets = late[shut[self.tables.bays[task[late]]].any(axis=1)]
        if len(meets):
            begins, ends = self.standing.after_closures(
                task[meets], team[meets], draw[meets], start[meets], end[meets]
            )
            put_off = begins > start[meets] + EPS_MIN
            floor[meets[put_off]] = begins[put_off]
            start[meets], end[meets] = begins, ends
