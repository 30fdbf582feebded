"""Every smallest set of statements that cannot hold together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from asfound.weigh.dates.bounds import Broken
from asfound.weigh.dates.history import Event, Link
from asfound.weigh.dates.tight import what_breaks

Statement = tuple[str, str]
"""Kind (``event`` for the window of an event, or ``link``) and name."""

MOST_CLASHES = 100
MOST_WORK = 1_500_000
"""Ties tried in one search, the same on every machine: a second or two of work."""
_MOST_HITTING = 4_000


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
        self.events, self.links = events, links
        self.work = 0
        self.found: list[frozenset[Statement]] = []
        self.stopped = False

    def run(self, first: Broken) -> None:
        self.found.append(self._shrink(_statements(first)))
        mends: set[frozenset[Statement]] = {frozenset({s}) for s in self.found[0]}
        proved: set[frozenset[Statement]] = set()
        while (clash := self._another(sorted(mends - proved, key=_order), proved)) is not None:
            self.found.append(clash)
            mends = _meeting_also(mends, clash)
            if len(mends) > _MOST_HITTING:
                self.stopped = True
                return

    def _another(
        self, mends: Sequence[frozenset[Statement]], proved: set[frozenset[Statement]]
    ) -> frozenset[Statement] | None:
        """Clash that one of the mends leaves standing; those that do mend join ``proved``."""
        for mend in mends:
            if len(self.found) >= MOST_CLASHES or self.work > MOST_WORK:
                self.stopped = True
                return None
            broken = self._break(leaving_out=mend)
            if broken is not None:
                return self._shrink(_statements(broken))
            proved.add(mend)
        return None

    def _break(self, *, leaving_out: frozenset[Statement]) -> Broken | None:
        events = [_without(e) if ("event", e.event) in leaving_out else e for e in self.events]
        links = [link for link in self.links if ("link", link.link) not in leaving_out]
        broken, work = what_breaks(events, links)
        self.work += work + len(links)
        return broken

    def _shrink(self, statements: frozenset[Statement]) -> frozenset[Statement]:
        """Leave out what the clash does not need; what breaks meanwhile may be smaller still."""
        for statement in sorted(statements):
            if statement in statements:
                broken = self._break_only(statements - {statement})
                if broken is not None:
                    statements = _statements(broken)
        return statements

    def _break_only(self, statements: frozenset[Statement]) -> Broken | None:
        links = [link for link in self.links if ("link", link.link) in statements]
        named = {name for kind, name in statements if kind == "event"}
        tied = named | {end for link in links for end in (link.start, link.end)}
        events = [
            e if e.event in named else _without(e) for e in self.events if e.event in tied
        ]
        broken, work = what_breaks(events, links)
        self.work += work
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
    grown = {mend | {statement} for mend in mends - meeting for statement in clash}
    return meeting | {mend for mend in grown if not any(small < mend for small in meeting)}


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
