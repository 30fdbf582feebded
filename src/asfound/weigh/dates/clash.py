"""Every smallest set of statements that cannot hold together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from asfound.weigh.dates.bounds import Broken, Days
from asfound.weigh.dates.history import Event, Link
from asfound.weigh.dates.tight import Statements

Statement = tuple[str, str]
"""Kind (``event`` for the window of an event, or ``link``) and name."""

MOST_CLASHES = 100
MOST_WORK = 400_000
"""Ties tried in one search, the same on every machine: about a second of work."""
_MOST_MENDS = 5_000
"""With more ways to mend it a history is beyond a complete list of its clashes."""
_MENDS_FOLLOWED = 200
"""So many ways are then followed on, to find some more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Statements that cannot all hold, while any of them alone left out lets the others hold.

    Parameters
    ----------
    events : tuple of str
        Events whose windows take part.
    links : tuple of str
        Links that take part.
    """

    events: tuple[str, ...]
    links: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """All that take part, in order of name."""
        return tuple(sorted((*self.events, *self.links)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Clashes:
    """Clashes, those of fewest statements first; ``all_found`` is False where a limit ended it."""

    clashes: tuple[Clash, ...]
    all_found: bool


class _Search:
    """Smallest sets of clashing statements, by what could be left out to mend them all.

    Notes
    -----
    A set of statements that meets every clash found so far is left out; if the rest still
    breaks, it holds a new clash, otherwise the set is a way to mend the history. When every
    smallest such set mends it, no clash is missing: the clashes and the smallest ways to mend
    them determine each other (Reiter, Artificial Intelligence 32 (1987), 57-95).
    """

    def __init__(self, events: Sequence[Event], links: Sequence[Link]) -> None:
        self.events = {event.event: event for event in events}
        self.links = {link.link: link for link in links}
        self.said = Statements(events, links)
        self.found: list[frozenset[Statement]] = []
        self.stopped = False

    def run(self, first: Broken) -> None:
        self.found.append(self._shrink(_statements(first)))
        mends: set[frozenset[Statement]] = {frozenset({s}) for s in self.found[0]}
        proved: set[frozenset[Statement]] = set()
        while (clash := self._another(sorted(mends - proved, key=_order), proved)) is not None:
            self.found.append(clash)
            mends = _meeting_also(mends, clash)
            if len(mends) > _MOST_MENDS:
                mends = set(sorted(mends, key=_order)[:_MENDS_FOLLOWED])
                self.stopped = True

    def _another(
        self, mends: Sequence[frozenset[Statement]], proved: set[frozenset[Statement]]
    ) -> frozenset[Statement] | None:
        """Clash that one of the mends leaves standing; those that do mend join ``proved``.

        Once a mend is met that does mend, all that is in a clash is left out and the rest
        settled; each further mend then lets come back what it does not leave out, so that only
        what lies about the clashes is looked at.
        """
        in_clash = frozenset().union(*self.found)
        settled: Days | None = None
        for mend in mends:
            if len(self.found) >= MOST_CLASHES or self.said.work > MOST_WORK:
                self.stopped = True
                return None
            if settled is None or not self._holds(settled, in_clash, mend):
                broken = self._break(leaving_out=mend)
                if broken is not None:
                    return self._shrink(_statements(broken))
            proved.add(mend)
            if settled is None:
                windows, links = _named(in_clash)
                settled = self.said.settled(but_windows=windows, but_links=links)
        return None

    def _holds(
        self, settled: Days, in_clash: frozenset[Statement], mend: frozenset[Statement]
    ) -> bool:
        windows, links = _named(mend)
        back_windows, back_links = _named(in_clash - mend)
        ends = {e for name in back_links for e in (self.links[name].start, self.links[name].end)}
        return self.said.holds(
            settled, but_windows=windows, but_links=links, moved=sorted(back_windows | ends)
        )

    def _break(self, *, leaving_out: frozenset[Statement]) -> Broken | None:
        windows, links = _named(leaving_out)
        return self.said.what_breaks(but_windows=windows, but_links=links)

    def _shrink(self, statements: frozenset[Statement]) -> frozenset[Statement]:
        """Leave out what the clash does not need; what breaks meanwhile may be smaller still."""
        for statement in sorted(statements):
            if statement in statements:
                broken = self._break_only(statements - {statement})
                if broken is not None:
                    statements = _statements(broken)
        return statements

    def _break_only(self, statements: frozenset[Statement]) -> Broken | None:
        named, of_links = _named(statements)
        links = [self.links[name] for name in sorted(of_links)]
        tied = named | {end for link in links for end in (link.start, link.end)}
        events = [
            self.events[name] if name in named else _without(self.events[name])
            for name in sorted(tied)
        ]
        few = Statements(events, links)
        broken = few.what_breaks()
        self.said.work += few.work
        return broken


def clashes_of(events: Sequence[Event], links: Sequence[Link], *, first: Broken) -> Clashes:
    """Every smallest set of statements that clash, as far as the limits of the search allow.

    Parameters
    ----------
    events : sequence of Event
    links : sequence of Link
        Events and links that cannot all hold.
    first : Broken
        Some of them that already clash.

    Notes
    -----
    The search ends after ``MOST_CLASHES`` clashes or ``MOST_WORK`` ties tried; ``all_found``
    then says that there may be more.
    """
    search = _Search(events, links)
    search.run(first)
    found = sorted(search.found, key=_order)
    return Clashes(clashes=tuple(map(_clash, found)), all_found=not search.stopped)


def _meeting_also(
    mends: set[frozenset[Statement]], clash: frozenset[Statement]
) -> set[frozenset[Statement]]:
    """Smallest sets that meet all earlier clashes and this one (Berge's step)."""
    meeting = {mend for mend in mends if mend & clash}
    apart = mends - meeting
    grown = set[frozenset[Statement]]()
    for statement in clash:
        rests = [mend - {statement} for mend in meeting if statement in mend]
        grown |= {m | {statement} for m in apart if not any(rest <= m for rest in rests)}
    return meeting | grown


def _named(statements: frozenset[Statement]) -> tuple[set[str], set[str]]:
    """Events of windows, and links, by name."""
    windows = {name for kind, name in statements if kind == "event"}
    return windows, {name for kind, name in statements if kind == "link"}


def _without(event: Event) -> Event:
    return replace(event, first=None, last=None)


def _statements(broken: Broken) -> frozenset[Statement]:
    return frozenset({("link", name) for name in broken.links}) | {
        ("event", name) for name in broken.events
    }


def _order(statements: frozenset[Statement]) -> tuple[int, list[str]]:
    return len(statements), sorted(name for _, name in statements)


def _clash(statements: frozenset[Statement]) -> Clash:
    def of(kind: str) -> tuple[str, ...]:
        return tuple(sorted(name for k, name in statements if k == kind))

    return Clash(events=of("event"), links=of("link"))
