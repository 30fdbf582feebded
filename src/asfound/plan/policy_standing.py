"""Who and what is free in each draw, and when a task could begin and would be expected to end."""

from __future__ import annotations

import numpy as np

from asfound.plan.open_grid import Minutes, Numbers, OpenGrids
from asfound.plan.policy_tables import Tables

EPS_MIN = 1e-6


class Standing:
    """What is free in each draw.

    Parameters
    ----------
    tables : Tables
    grids : OpenGrids
        Working time of each team.
    draws : int

    Notes
    -----
    Questions are asked for pairs of a task and a draw, given as two arrays of the same length.
    """

    def __init__(self, tables: Tables, grids: OpenGrids, *, draws: int) -> None:
        self.tables, self.grids = tables, grids
        self._free = np.zeros((int(tables.members.max()) + 1, draws))
        self._nobody = len(self._free) - 1 if tables.members.size else 0
        most = max([1, *tables.counts])
        self._places = np.zeros((len(tables.counts) + 1, most, draws))
        for bay, count in enumerate(tables.counts):
            self._places[bay, count:] = np.inf

    def places_from(self, task: Numbers, draw: Numbers, ready: Minutes) -> Minutes:
        """When all places of each task are free, from ``ready`` on."""
        bays, needs = self.tables.bays[task], self.tables.needs[task]
        for column in range(bays.shape[1]):
            free = self._places[bays[:, column], needs[:, column] - 1, draw]
            ready = np.maximum(ready, free)
        return ready

    def start(self, team: Numbers, draw: Numbers, ready: Minutes) -> tuple[Minutes, Minutes]:
        """When each team can begin from ``ready`` on, and its open minutes before that."""
        for column in self.tables.members[team].T:
            ready = np.maximum(ready, self._free[column, draw])
        passed = self.grids.before(team, ready)
        return self.grids.starts_at(team, passed), passed

    def span(
        self, team: Numbers, draw: Numbers, ready: Minutes, expected: Minutes
    ) -> tuple[Minutes, Minutes]:
        """When each team can begin, and would end with the hours expected; never if it cannot."""
        start, passed = self.start(team, draw, ready)
        passed += expected
        end = self.grids.ends_at(team, passed)
        return start, np.where(passed > self.grids.total_min[team] + EPS_MIN, np.inf, end)

    def end(self, task: Numbers, team: Numbers, start: Minutes, work: Minutes) -> Minutes:
        """When each task ends that begins at ``start``."""
        end = self.grids.ends_at(team, self.grids.before(team, start) + work)
        return np.where(self.tables.works[task] & (work > 0), end, start)

    def take(self, task: Numbers, team: Numbers, end: Minutes) -> None:
        """Enter one task in every draw."""
        everywhere = np.arange(len(task))
        works = self.tables.works[task]
        for column in self.tables.members[team].T:
            self._free[np.where(works, column, self._nobody), everywhere] = end
        self._free[self._nobody] = 0.0
        for bays, needs in zip(self.tables.bays[task].T, self.tables.needs[task].T, strict=True):
            draws = np.flatnonzero(bays < len(self.tables.counts))
            if len(draws):
                self._take_places(bays[draws], needs[draws], draws, end[draws])

    def _take_places(self, bay: Numbers, need: Numbers, draw: Numbers, end: Minutes) -> None:
        """The places that have been free for longest."""
        places = self._places[bay, :, draw]
        first = np.arange(places.shape[1]) < need[:, None]
        places = np.where(first, end[:, None], places)
        places.sort(axis=1)
        self._places[bay, :, draw] = places

    def after_closures(
        self, task: Numbers, team: Numbers, draw: Numbers, start: Minutes, end: Minutes
    ) -> tuple[Minutes, Minutes]:
        """The same span, put off where a closed place is in its way.

        Each closure that the span meets is taken to close a place of its own from the start on,
        which is on the safe side.
        """
        expected = self.tables.expected_min[task]
        for _ in range(2 * self.tables.shut_from_min.size + 1):
            ready = np.maximum(start, self._open_from(task, draw, start, end))
            if (ready <= start + EPS_MIN).all():
                break
            start, end = self.span(team, draw, ready, expected)
        return start, end

    def _open_from(self, task: Numbers, draw: Numbers, start: Minutes, end: Minutes) -> Minutes:
        tables, ready = self.tables, start
        counts = np.array([*tables.counts, 1])
        for bay, need in zip(tables.bays[task].T, tables.needs[task].T, strict=True):
            until = tables.shut_until_min[bay]
            met = (tables.shut_from_min[bay] < end[:, None]) & (until > start[:, None] + EPS_MIN)
            wanted = need + met.sum(axis=1)
            free = self._places[bay, np.minimum(wanted, counts[bay]) - 1, draw]
            reopened = np.where(met, until, np.inf).min(axis=1, initial=np.inf)
            ready = np.maximum(ready, np.where(wanted > counts[bay], reopened, free))
        return ready
