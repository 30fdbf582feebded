"""Links as ties: each raises the first day of an event, or lowers the last day of one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from asfound.weigh.dates.history import Link
from asfound.weigh.dates.step import Step


@dataclass(frozen=True, slots=True)
class Tie:
    """How a bound of one event bounds another.

    ``days`` is the shift where it is one of days; otherwise ``onto`` leads from bound to bound.
    ``fewest`` is the smallest rise a bound can meet on the way.
    """

    link: str
    event: str
    days: int | None
    onto: Callable[[int], int]
    fewest: int

    def bound(self, day: int) -> int:
        """Bound of ``event`` that follows from the bound ``day`` of the other."""
        return self.onto(day) if self.days is None else day + self.days


Ties = dict[str, list[Tie]]


def raising(links: Iterable[Link]) -> Ties:
    """Ties from the first day of an event to that of its neighbours.

    Notes
    -----
    least ≤ end - start bounds the end from below by ``least.ahead(start)``;
    end - start ≤ most bounds the start from below by the first day that reaches the end.
    """
    ties: Ties = {}
    for link in links:
        if link.least is not None:
            least = link.least
            _add(ties, link.start, link.link, link.end, least, least.ahead, least.shifts()[0])
        if link.most is not None:
            most = link.most
            back = -most.shifts()[1]
            _add(ties, link.end, link.link, link.start, most, most.least_reaching, back)
    return ties


def lowering(links: Iterable[Link]) -> Ties:
    """Ties from the last day of an event to that of its neighbours, on days counted backwards.

    A last day that is lowered is a first day that is raised once the sign of every day is
    turned, so that one way of raising serves both.
    """
    ties: Ties = {}
    for link in links:
        if link.most is not None:
            onto, rise = link.most.ahead, -link.most.shifts()[1]
            _add(ties, link.start, link.link, link.end, link.most, _turned(onto), rise)
        if link.least is not None:
            onto, rise = link.least.last_within, link.least.shifts()[0]
            _add(ties, link.end, link.link, link.start, link.least, _turned(onto), rise)
    return ties


def _turned(onto: Callable[[int], int]) -> Callable[[int], int]:
    return lambda day: -onto(-day)


def _add(
    ties: Ties,
    source: str,
    link: str,
    event: str,
    step: Step,
    onto: Callable[[int], int],
    fewest: int,
) -> None:
    days = None if step.months else onto(0)
    ties.setdefault(source, []).append(
        Tie(link=link, event=event, days=days, onto=onto, fewest=fewest)
    )
