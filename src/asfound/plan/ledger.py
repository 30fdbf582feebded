"""Who and what is taken when, on the shop's scale."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from asfound.plan.shop import Shop
from asfound.plan.task import Task


class Ledger:
    """Taken people of each crew and taken places of each bay, by tick."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        people = [len(crew.people) for crew in shop.crews]
        self._taken_people = np.zeros((len(people), shop.total), dtype=np.int16)
        self._people = people
        self._places = {bay.bay: bay.count for bay in shop.problem.bays}
        self._taken_places = {bay.bay: shop.closed(bay) for bay in shop.problem.bays}

    def earliest(
        self, task: Task, crews: dict[int, int], ready: int, *, before: int
    ) -> tuple[int, int] | None:
        """Earliest start and end [tick] for a team, not after ``before``; None where there is none.

        Parameters
        ----------
        task : Task
        crews : dict of int to int
            How many people of each crew.
        ready : int
            First tick at which it may start.
        before : int
            An end at or after this tick is of no use.
        """
        breaks = self.shop.team(frozenset(crews))
        ticks = self.shop.ticks(task.hours.minutes)
        start = ready
        while True:
            start = breaks.begin(start) if ticks else start
            end = breaks.end(start, ticks)
            if end is None or end >= before:
                return None
            free = self._free_after(task, crews, start, end)
            if free == start:
                return start, end
            start = free

    def _free_after(self, task: Task, crews: dict[int, int], start: int, end: int) -> int:
        """``start`` where all is free, or the first tick after the last that stands in the way."""
        for crew, count in crews.items():
            taken = self._taken_people[crew, start:end] > self._people[crew] - count
            if taken.any():
                return start + int(np.flatnonzero(taken)[-1]) + 1
        for bay, count in task.bays.items():
            taken = self._taken_places[bay][start:end] > self._places[bay] - count
            if taken.any():
                return start + int(np.flatnonzero(taken)[-1]) + 1
        return start

    def take(self, task: Task, crews: dict[int, int], start: int, end: int) -> None:
        """Enter a task."""
        for crew, count in crews.items():
            self._taken_people[crew, start:end] += count
        for bay, count in task.bays.items():
            self._taken_places[bay][start:end] += count


def splits(able: Iterable[int], sizes: list[int], people: int) -> list[dict[int, int]]:
    """Every way to take so many people from crews of these sizes, the least mixed first."""
    found: list[dict[int, int]] = [{}]
    for crew in able:
        found = [
            {**taken, crew: count} if count else taken
            for taken in found
            for count in range(min(sizes[crew], people - sum(taken.values())) + 1)
        ]
    whole = [taken for taken in found if sum(taken.values()) == people]
    return sorted(whole, key=lambda taken: (len(taken), sorted(taken.items())))
