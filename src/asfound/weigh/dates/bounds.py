"""The tightest first and last days by shortest paths, and the chain of ties that breaks one."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from asfound.weigh.dates.days import GREGORIAN_PERIOD_DAYS
from asfound.weigh.dates.ties import Tie, Ties

Days = dict[str, int]
_LOOK_FOR_A_LOOP_AT = 4
"""A bound raised so often, and each time twice as often, is looked at for a loop of ties."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """Ties that cannot hold together.

    Parameters
    ----------
    links : frozenset of str
        Links on the way.
    events : frozenset of str
        Events whose windows the way begins and ends at; empty for a loop of links.
    """

    links: frozenset[str]
    events: frozenset[str]


@dataclass(slots=True)
class Raise:
    """Raises of bounds until none is left, remembering what each one followed from.

    Parameters
    ----------
    ties : Ties
    firsts : dict of str to int
        First days by event, raised in place; an event that is absent has none.
    lasts : mapping of str to int
        Last days that no first day may pass.
    told : collection of str
        Events whose first day is a statement of their window.
    but_links : collection of str
        Links left out.
    moved : collection of str, optional
        Events to begin with, where the first days of all others are at rest; all by default.
    """

    ties: Ties
    firsts: Days
    lasts: Mapping[str, int]
    told: Collection[str]
    but_links: Collection[str] = ()
    moved: Collection[str] | None = None
    work: int = 0
    _steps: list[tuple[str, tuple[str, ...], int]] = field(default_factory=list)
    _latest: dict[str, int] = field(default_factory=dict)
    _raised: dict[str, int] = field(default_factory=dict)

    def run(self) -> Broken | None:
        """Raise every first day as far as the ties ask; what breaks on the way, if anything.

        Notes
        -----
        Bellman and Ford's relaxation with a queue. Every tie leads from a later day to a day no
        earlier, so the least fixed point holds the first day of every event, also where months
        make the distances uneven.
        """
        waiting = deque(self.firsts if self.moved is None else self.moved)
        queued = set(waiting)
        for event in waiting:
            self._latest[event] = self._note(event, (), -1)
            if self.firsts[event] > self.lasts.get(event, self.firsts[event]):
                return self._broken_at(event)
        while waiting:
            source = waiting.popleft()
            queued.discard(source)
            for tie in self.ties.get(source, ()):
                self.work += 1
                day = tie.bound(self.firsts[source])
                if day <= self.firsts[tie.event] or tie.link in self.but_links:
                    continue
                broken = self._raise(tie, day, source)
                if broken is not None:
                    return broken
                if tie.event not in queued:
                    queued.add(tie.event)
                    waiting.append(tie.event)
        return None

    def _raise(self, tie: Tie, day: int, source: str) -> Broken | None:
        self.firsts[tie.event] = day
        self._latest[tie.event] = self._note(tie.event, (tie.link,), self._latest[source])
        if day > self.lasts.get(tie.event, day):
            return self._broken_at(tie.event)
        times = self._raised[tie.event] = self._raised.get(tie.event, 0) + 1
        if times >= _LOOK_FOR_A_LOOP_AT and times & (times - 1) == 0:
            return self._turn_the_loop(tie.event)
        return None

    def _note(self, event: str, links: tuple[str, ...], follows: int) -> int:
        self._steps.append((event, links, follows))
        return len(self._steps) - 1

    def _broken_at(self, event: str) -> Broken:
        links, at = set[str](), self._latest[event]
        root = event
        while at >= 0:
            root, on_the_way, at = self._steps[at]
            links.update(on_the_way)
        windows = {event} | ({root} if root in self.told else set())
        return Broken(links=frozenset(links), events=frozenset(windows))

    def _loop_of(self, event: str) -> list[str] | None:
        """Links of the loop by which the event raised itself, in order; None if it did not."""
        loop, at = list[str](), self._latest[event]
        while at >= 0:
            name, links, follows = self._steps[at]
            if loop and name == event:
                return loop[::-1]
            loop.extend(reversed(links))
            at = follows
        return None

    def _turn_the_loop(self, event: str) -> Broken | None:
        """Turn a loop until it rests, breaks a window, or has passed all of the calendar.

        Notes
        -----
        A loop of days alone that raises its own event never rests. One with months may: the
        calendar repeats after 400 years, so a loop that has not rested by then never will.
        """
        loop = self._loop_of(event)
        if loop is None:
            return None
        way = self._way(event, loop)
        if sum(tie.fewest for tie in way) > 0 or all(tie.days is not None for tie in way):
            return Broken(links=frozenset(loop), events=frozenset())
        begun = self.firsts[event]
        while True:
            day = self.firsts[event]
            for tie in way:
                day = tie.bound(day)
                self.work += 1
            if day <= self.firsts[event]:
                return None
            self.firsts[event] = day
            self._latest[event] = self._note(event, tuple(loop), self._latest[event])
            if day > self.lasts.get(event, day):
                return self._broken_at(event)
            if day > begun + GREGORIAN_PERIOD_DAYS:
                return Broken(links=frozenset(loop), events=frozenset())

    def _way(self, event: str, loop: list[str]) -> list[Tie]:
        way, at = list[Tie](), event
        for link in loop:
            tie = next(t for t in self.ties[at] if t.link == link)
            way.append(tie)
            at = tie.event
        return way
