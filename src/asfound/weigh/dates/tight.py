"""The first and last day of every event that any consistent history allows."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field

from asfound.weigh.dates.bounds import Broken, Days, Raise
from asfound.weigh.dates.days import GREGORIAN_PERIOD_DAYS
from asfound.weigh.dates.history import Event, Link
from asfound.weigh.dates.ties import Ties, lowering, raising


@dataclass(frozen=True, slots=True, kw_only=True)
class Windows:
    """First and last days by event; an event that is absent is open on that side."""

    firsts: Days
    lasts: Days


@dataclass(slots=True)
class Statements:
    """Events and links whose statements are held against each other, all or some of them.

    Notes
    -----
    An event without a first day begins so far in the past that no tie can bring it near the
    stated windows. The least fixed point then exists if and only if a history does.
    """

    events: Sequence[Event]
    links: Sequence[Link]
    work: int = 0
    _ties: Ties = field(init=False)
    _far: int = field(init=False)
    _firsts: Days = field(init=False)
    _lasts: Days = field(init=False)

    def __post_init__(self) -> None:
        self._ties, self._far = raising(self.links), _far(self.events, self.links)
        self._firsts = {e.event: e.first for e in self.events if e.first is not None}
        self._lasts = {e.event: e.last for e in self.events if e.last is not None}

    def what_breaks(
        self, *, but_windows: Collection[str] = (), but_links: Collection[str] = ()
    ) -> Broken | None:
        """Statements that cannot hold together, or None, with some of them left out."""
        raises = self.raise_firsts(but_windows, but_links)
        broken = raises.run()
        self.work += raises.work
        return broken

    def settled(self, *, but_windows: Collection[str], but_links: Collection[str]) -> Days:
        """First days with some statements left out, which must be enough to mend the history."""
        raises = self.raise_firsts(but_windows, but_links)
        raises.run()
        self.work += raises.work
        return raises.firsts

    def holds(
        self,
        settled: Days,
        *,
        but_windows: Collection[str],
        but_links: Collection[str],
        moved: Collection[str],
    ) -> bool:
        """Whether a history remains when statements come back to one that is settled.

        Parameters
        ----------
        settled : dict of str to int
            First days of ``settled``, with at least the statements left out that are so here.
        but_windows, but_links : collection of str
            What stays left out.
        moved : collection of str
            Events whose windows come back, and those at the ends of links that do.
        """
        firsts = dict(settled)
        for name in moved:
            first = self._firsts.get(name)
            if first is not None and name not in but_windows:
                firsts[name] = max(firsts[name], first)
        raises = Raise(
            ties=self._ties,
            firsts=firsts,
            lasts={n: day for n, day in self._lasts.items() if n not in but_windows},
            told=(),
            but_links=but_links,
            moved=moved,
        )
        broken = raises.run()
        self.work += raises.work + len(moved)
        return broken is None

    def raise_firsts(
        self, but_windows: Collection[str] = (), but_links: Collection[str] = ()
    ) -> Raise:
        """First days about to be raised."""
        told = {n: day for n, day in self._firsts.items() if n not in but_windows}
        return Raise(
            ties=self._ties,
            firsts={e.event: told.get(e.event, 2 * self._far) for e in self.events},
            lasts={n: day for n, day in self._lasts.items() if n not in but_windows},
            told=told,
            but_links=but_links,
        )

    def raise_lasts(self) -> Raise:
        """Last days about to be lowered, on days counted backwards."""
        told = {name: -last for name, last in self._lasts.items()}
        return Raise(
            ties=lowering(self.links),
            firsts={e.event: told.get(e.event, 2 * self._far) for e in self.events},
            lasts={name: -first for name, first in self._firsts.items()},
            told=told,
        )

    def is_told(self, day: int) -> bool:
        """Whether a bound comes from a stated day and not from far in the past."""
        return day > self._far


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
    said = Statements(events, links)
    up = said.raise_firsts()
    broken = up.run()
    if broken is not None:
        return broken
    down = said.raise_lasts()
    down.run()  # nothing breaks: all first days together are a history
    return Windows(
        firsts={name: day for name, day in up.firsts.items() if said.is_told(day)},
        lasts={name: -day for name, day in down.firsts.items() if said.is_told(day)},
    )


def _far(events: Sequence[Event], links: Iterable[Link]) -> int:
    """Day below which a bound must be an open one: no tie brings a stated day so far."""
    shifts = (s for link in links for s in (link.least, link.most) if s is not None)
    reach = sum(max(map(abs, step.shifts())) for step in shifts)
    reach += (len(events) + 1) * GREGORIAN_PERIOD_DAYS
    told = [day for e in events for day in (e.first, e.last) if day is not None]
    return -(reach + max(map(abs, told), default=0))
