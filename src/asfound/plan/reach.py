"""How early each task can end, and how much must follow it, whoever else wants the people."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.plan.draft import Draft
from asfound.plan.shop import Shop


class HorizonError(Exception):
    """The days looked at are too few; look at more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Bounds of one task on the shop's scale.

    Parameters
    ----------
    start, end : int
        Earliest start and end [tick], if no other task wanted its people and bays.
    tail : int
        Ticks of open time between its end and the finish, at least.
    """

    start: int
    end: int
    tail: int


def reaches(shop: Shop, *, fixed: Draft | None = None) -> dict[str, Reach]:
    """Reach of every task along the links; those that are fixed stand where they stand.

    Raises
    ------
    HorizonError
        If a task cannot end within the shop's days.
    """
    starts, ends = _heads(shop, fixed)
    tails = _tails(shop)
    return {
        name: Reach(start=starts[name], end=ends[name], tail=tails[name])
        for name in shop.problem.order
    }


def _heads(shop: Shop, fixed: Draft | None) -> tuple[dict[str, int], dict[str, int]]:
    starts: dict[str, int] = {}
    ends: dict[str, int] = {}
    for name in shop.problem.order:
        if fixed is not None and name in fixed.start:
            starts[name], ends[name] = fixed.start[name], fixed.end[name]
            continue
        task = shop.problem.named[name]
        ready = ready_at(shop, name, ends)
        breaks = shop.loosest[name]
        starts[name] = breaks.begin(ready) if task.hours.minutes else ready
        end = breaks.end(starts[name], shop.ticks(task.hours.minutes))
        if end is None or end > shop.total:
            raise HorizonError(name)
        ends[name] = end
    return starts, ends


def ready_at(shop: Shop, name: str, ends: dict[str, int]) -> int:
    """First tick at which a task may start after what comes before it."""
    return max(
        [shop.floors[name]]
        + [shop.earliest_after(link, ends[link.before]) for link in shop.problem.links_to[name]]
    )


def _tails(shop: Shop) -> dict[str, int]:
    tails: dict[str, int] = {}
    for name in reversed(shop.problem.order):
        tails[name] = max(
            (
                shop.ticks(shop.problem.named[n].hours.minutes) + tails[n]
                for n in shop.problem.after[name]
            ),
            default=0,
        )
    return tails
