"""What may have happened so that all readings are true, by the fewest changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from asfound.weigh.odometer.clash import clashes_of, falls
from asfound.weigh.odometer.reading import OdometerReading

MOST_CHANGES = 3
"""Stories with more changes are not told: by then the papers are past helping."""
MOST_STORIES = 40
_TOO_MANY = 20_000
"""Half-told stories at which the search gives up: the papers then contradict all over."""

ChangeKind = Literal["turned over", "instrument changed", "other unit", "reading wrong"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Something that the papers do not say and that would make them agree.

    Parameters
    ----------
    kind : {"turned over", "instrument changed", "other unit", "reading wrong"}
    reading : OdometerReading
        The reading changed, or the first one after the change.
    after : OdometerReading or None
        The last reading before the change; ``None`` for a change to the reading itself.
    turns : int
        How often the dial turned over.
    """

    kind: ChangeKind
    reading: OdometerReading
    after: OdometerReading | None = None
    turns: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Distance between two readings that follow each other in a story [km], where it is known."""

    first: OdometerReading
    second: OdometerReading
    km: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """Changes under which all readings agree, and the true distances that then fit.

    ``at_most_km`` is ``None`` where an instrument was changed: what the old one went on to count
    and where the new one began, nobody knows.
    """

    changes: tuple[Change, ...]
    at_least_km: float
    at_most_km: float | None
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """A story as far as it is told: the last reading that counts, and the true distance there."""

    last: OdometerReading | None = None
    km: float = 0.0
    exact: bool = True
    changes: tuple[Change, ...] = ()
    stretches: tuple[Stretch, ...] = ()

    @property
    def spent(self) -> int:
        """Changes told so far, each turn of a dial being one."""
        return sum(max(change.turns, 1) for change in self.changes)


def stories_of(ordered: Sequence[OdometerReading]) -> tuple[Story, ...]:
    """Stories with the fewest changes, at most ``MOST_STORIES``; none beyond ``MOST_CHANGES``.

    Parameters
    ----------
    ordered : sequence of OdometerReading
        By date, at least one.

    Notes
    -----
    The instrument that the first reading names is taken to have counted from the car's first
    day. On one instrument the distance between two readings is the difference of their figures
    and of whole turns of the dial. Where the papers name another instrument the count starts
    anew without a change being told. A change that nobody wrote down costs one: the dial turned
    over (each turn), the instrument was changed or set back, a figure is in the other unit, a
    reading is wrong.
    """
    doubted = {r.name for clash in clashes_of(ordered) for r in clash.readings}
    for most in range(MOST_CHANGES + 1):
        told = [t for t in _tell(ordered, most, doubted) if t.last is not None]
        if told:
            stories = {_named(t.changes): _story(t, ordered[-1]) for t in told}
            return tuple(stories.values())[:MOST_STORIES]
    return ()


def _tell(ordered: Sequence[OdometerReading], most: int, doubted: set[str]) -> list[_Told]:
    """Stories of all readings with at most so many changes; none where they are too many."""
    told = [_Told()]
    for reading in ordered:
        told = [
            following
            for story in told
            for following in _next(story, reading, most - story.spent, doubted)
        ]
        if len(told) > _TOO_MANY:
            return []
    return told


def _next(told: _Told, reading: OdometerReading, left: int, doubted: set[str]) -> Iterator[_Told]:
    """The story told on by one reading, in every way that the changes left allow."""
    if not reading.beyond_dial:
        yield from _counted(told, reading, left)
    if left and reading.name in doubted:
        if not reading.beyond_dial:
            other = Change(kind="other unit", reading=reading)
            in_other = replace(told, changes=(*told.changes, other))
            yield from _counted(in_other, reading.other_unit, left - 1)
        wrong = Change(kind="reading wrong", reading=reading)
        yield replace(told, changes=(*told.changes, wrong))


def _counted(told: _Told, reading: OdometerReading, left: int) -> Iterator[_Told]:
    last = told.last
    if last is None:
        yield _Told(last=reading, km=reading.km, changes=told.changes)
    elif last.instrument != reading.instrument:
        yield _anew(told, reading, told.changes)
    elif not falls(last, reading):
        yield _on(told, reading, max(0.0, reading.km - last.km), told.changes)
    elif left:
        yield from _turned(told, last, reading, left)
        change = Change(kind="instrument changed", reading=reading, after=last)
        yield _anew(told, reading, (*told.changes, change))


def _turned(
    told: _Told, last: OdometerReading, reading: OdometerReading, left: int
) -> Iterator[_Told]:
    turn_km, turns = reading.turn_km, 1
    if turn_km is None:
        return
    while reading.km + turns * turn_km < last.km:
        turns += 1
    if turns <= left:
        change = Change(kind="turned over", reading=reading, after=last, turns=turns)
        km = reading.km + turns * turn_km - last.km
        yield _on(told, reading, km, (*told.changes, change))


def _on(told: _Told, reading: OdometerReading, km: float, changes: tuple[Change, ...]) -> _Told:
    assert told.last is not None, "a story goes on from a reading"
    stretch = Stretch(first=told.last, second=reading, km=km)
    stretches = (*told.stretches, stretch)
    return replace(told, last=reading, km=told.km + km, changes=changes, stretches=stretches)


def _anew(told: _Told, reading: OdometerReading, changes: tuple[Change, ...]) -> _Told:
    return replace(told, last=reading, exact=False, changes=changes)


def _named(changes: tuple[Change, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((change.kind, change.reading.name) for change in changes)


def _story(told: _Told, latest: OdometerReading) -> Story:
    """The story; open above where the latest reading does not count in it."""
    known = told.exact and told.last is not None and told.last.name == latest.name
    return Story(
        changes=told.changes,
        at_least_km=told.km,
        at_most_km=told.km if known else None,
        stretches=told.stretches,
    )
