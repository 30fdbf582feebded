"""What is said of a history: events with windows, and statements that tie two of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from asfound.base import InputError
from asfound.weigh.dates.days import iso_day
from asfound.weigh.dates.step import Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened once, on one day that is not known exactly.

    Parameters
    ----------
    event : str
        Its name.
    first, last : int or None
        Day numbers between which the event is said to lie, both inclusive; ``None`` is open.

    Raises
    ------
    InputError
        If the first day lies after the last.
    """

    event: str
    first: int | None = None
    last: int | None = None

    def __post_init__(self) -> None:
        if self.first is not None and self.last is not None and self.first > self.last:
            raise InputError(
                field=f"first day of {self.event}",
                got=iso_day(self.first),
                allowed=f"on or before its last day, {iso_day(self.last)}",
                remedy="Correct one of the two, or leave one open.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A statement on the time from one event to another: least ≤ end - start ≤ most.

    Parameters
    ----------
    link : str
        Its name.
    start, end : str
        The two events.
    least, most : Step or None
        ``None`` is unbounded. A coat, a film or a glue that lies over another is a link from
        the lower to the upper with ``least`` of no days; a limited life has both.

    Raises
    ------
    InputError
        If the link ties an event to itself, or no distance can satisfy it.
    """

    link: str
    start: str
    end: str
    least: Step | None = None
    most: Step | None = None

    def __post_init__(self) -> None:
        if self.start == self.end:
            raise InputError(
                field=f"end of {self.link}",
                got=self.end,
                allowed="another event than its start",
                remedy="Name the two events that the statement ties.",
            )
        if self.least and self.most and self.least.shifts()[0] > self.most.shifts()[1]:
            raise InputError(
                field=f"least distance of {self.link}",
                got=self.least,
                allowed="not more than its greatest distance",
                remedy="Swap the two, or leave one empty.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """Events and the statements that tie them.

    Raises
    ------
    InputError
        If a name is used twice, or a link names an event that is not there.
    """

    events: tuple[Event, ...]
    links: tuple[Link, ...] = ()

    def __post_init__(self) -> None:
        _once("event", (event.event for event in self.events))
        _once("link", (link.link for link in self.links))
        known = {event.event for event in self.events}
        for link in self.links:
            for name in (link.start, link.end):
                if name not in known:
                    raise InputError(
                        field=f"event of {link.link}",
                        got=name,
                        allowed="one of the events",
                        remedy="Add the event, or correct the name.",
                    )


def _once(field: str, names: Iterable[str]) -> None:
    for name, count in Counter(names).items():
        if count > 1:
            raise InputError(
                field=field, got=name, allowed="named once", remedy="Give each a name of its own."
            )
