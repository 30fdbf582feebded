"""The first and last day of every event that any consistent history allows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from asfound.weigh.dates.bounds import Broken, Days, Raise
from asfound.weigh.dates.days import GREGORIAN_PERIOD_DAYS
from asfound.weigh.dates.history import Event, Link
from asfound.weigh.dates.ties import lowering, raising


@dataclass(frozen=True, slots=True, kw_only=True)
class Windows:
    """First and last days by event; an event that is absent is open on that side."""

    firsts: Days
    lasts: Days


def what_breaks(events: Sequence[Event], links: Sequence[Link]) -> tuple[Broken | None, int]:
    """Statements that cannot hold together, or None; and how many ties were tried.

    Notes
    -----
    An event without a first day begins so far in the past that no tie can bring it near the
    stated windows. The least fixed point then exists if and only if a history does.
    """
    raises = _raise_firsts(events, links)
    return raises.run(), raises.work


def tightest(events: Sequence[Event], links: Sequence[Link]) -> Windows | Broken:
    """Tightest window of every event, or statements that cannot hold together.

    Parameters
    ----------
    events : sequence of Event
    links : sequence of Link
        Between those events.

    Notes
    -----
    The histories that satisfy all statements are closed under taking the earlier day of each
    event, and the later; so each bound is reached by a history, and all first days by one.

    References
    ----------
    Dechter, Meiri and Pearl, Temporal constraint networks, Artificial Intelligence 49 (1991),
    61-95: the minimal network by shortest paths, inconsistent with a negative cycle.
    """
    up = _raise_firsts(events, links)
    broken = up.run()
    if broken is not None:
        return broken
    down = _raise_lasts(events, links)
    broken = down.run()
    if broken is not None:  # pragma: no cover - a history exists, so no last day can break
        return broken
    floor = _far(events, links)
    return Windows(
        firsts={name: day for name, day in up.firsts.items() if day > floor},
        lasts={name: -day for name, day in down.firsts.items() if day > floor},
    )


def _raise_firsts(events: Sequence[Event], links: Sequence[Link]) -> Raise:
    far = 2 * _far(events, links)
    return Raise(
        ties=raising(links),
        firsts={e.event: far if e.first is None else e.first for e in events},
        lasts={e.event: e.last for e in events if e.last is not None},
        told={e.event for e in events if e.first is not None},
    )


def _raise_lasts(events: Sequence[Event], links: Sequence[Link]) -> Raise:
    far = 2 * _far(events, links)
    return Raise(
        ties=lowering(links),
        firsts={e.event: far if e.last is None else -e.last for e in events},
        lasts={e.event: -e.first for e in events if e.first is not None},
        told={e.event for e in events if e.last is not None},
    )


def _far(events: Sequence[Event], links: Iterable[Link]) -> int:
    """Day below which a bound must be an open one: no tie brings a stated day so far."""
    shifts = (s for link in links for s in (link.least, link.most) if s is not None)
    reach = sum(max(map(abs, step.shifts())) for step in shifts)
    reach += (len(events) + 1) * GREGORIAN_PERIOD_DAYS
    told = [day for e in events for day in (e.first, e.last) if day is not None]
    span = max(map(abs, told), default=0)
    return -(reach + span)
