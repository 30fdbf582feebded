"""Who and what is taken when, on the shop's scale."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

from asfound.plan.shop import Shop
from asfound.plan.task import Task

Span = tuple[int, int]
"""Start and end [tick]."""


class Ledger:
    """What is left of each crew and each bay, by tick.

    Notes
    -----
    For every crew or bay and every ``count`` a whole number, whose bit *t* is set where fewer than
    ``count`` are left in tick *t*: whether a task fits into a span is one shift and one mask.
    """

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        closed = {bay.bay: shop.closed(bay) for bay in shop.problem.bays}
        self._short_people = [[0] * (len(crew.people) + 1) for crew in shop.crews]
        self._short_places = {
            bay.bay: [_bits(bay.count - closed[bay.bay] < n) for n in range(bay.count + 1)]
            for bay in shop.problem.bays
        }

    def earliest(
        self, task: Task, crews: Mapping[int, int], ready: int, *, before: int
    ) -> Span | None:
        """Earliest span for a team that starts at ``ready`` or later; None where there is none.

        Parameters
        ----------
        task : Task
        crews : mapping of int to int
            How many people of each crew.
        ready : int
            First tick at which it may start.
        before : int
            An end at or after this tick is of no use.
        """
        team, ticks = self.shop.team(frozenset(crews)), self.shop.ticks(task.hours.minutes)
        taken = self._taken(task, crews)
        while True:
            span = team.span_from(ready, ticks)
            if span is None or span[1] >= before:
                return None
            start, end = span
            clash = (taken >> start) & ((1 << (end - start)) - 1)
            if not clash:
                return span
            ready = start + clash.bit_length()

    def latest(self, task: Task, crews: Mapping[int, int], due: int) -> Span | None:
        """Latest span for a team that ends at ``due`` or earlier; None where there is none."""
        team, ticks = self.shop.team(frozenset(crews)), self.shop.ticks(task.hours.minutes)
        taken = self._taken(task, crews)
        while True:
            span = team.span_until(due, ticks)
            if span is None:
                return None
            start, end = span
            clash = (taken >> start) & ((1 << (end - start)) - 1)
            if not clash:
                return span
            due = start + (clash & -clash).bit_length() - 1

    def _taken(self, task: Task, crews: Mapping[int, int]) -> int:
        """Ticks at which not enough is left."""
        bits = 0
        for crew, count in crews.items():
            bits |= self._short_people[crew][count]
        for bay, count in task.bays.items():
            bits |= self._short_places[bay][count]
        return bits

    def take(self, task: Task, crews: Mapping[int, int], start: int, end: int) -> None:
        """Enter a task."""
        span = ((1 << (end - start)) - 1) << start
        for crew, count in crews.items():
            _take(self._short_people[crew], count, span)
        for bay, count in task.bays.items():
            _take(self._short_places[bay], count, span)


def _take(short: list[int], count: int, span: int) -> None:
    """Fewer than n are left where fewer than n + count were."""
    for n in range(1, len(short)):
        short[n] |= short[n + count] & span if n + count < len(short) else span


def _bits(where: npt.NDArray[np.bool_]) -> int:
    return int.from_bytes(np.packbits(where, bitorder="little").tobytes(), "little")
