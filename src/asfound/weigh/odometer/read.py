"""What the dated readings of an odometer say together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.weigh.odometer.clash import Clash, clashes_of, to_doubt
from asfound.weigh.odometer.explain import Story, stories_of
from asfound.weigh.odometer.reading import OdometerReading, in_order


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """True distances that fit [km], both ends included; ``to_km`` is ``None`` for no end."""

    from_km: float
    to_km: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OdometerResult:
    """Readings by date, what contradicts, and what would make them agree.

    Parameters
    ----------
    readings : tuple of OdometerReading
        By date.
    clashes : tuple of Clash
        Shortest lists of readings that contradict as written; empty where none do.
    to_doubt : tuple of tuple of OdometerReading
        Smallest sets of readings without which the others agree.
    stories : tuple of Story
        With the fewest changes; a single one without changes where nothing contradicts.
    distances : tuple of Span
        True distances at the latest reading that fit one of the stories, least first.
    turn_km : float or None
        A full turn of the latest dial: each more, which no reading excludes, adds so much.
    """

    readings: tuple[OdometerReading, ...]
    clashes: tuple[Clash, ...]
    to_doubt: tuple[tuple[OdometerReading, ...], ...]
    stories: tuple[Story, ...]
    distances: tuple[Span, ...]
    turn_km: float | None


def read_odometer(readings: Sequence[OdometerReading]) -> OdometerResult:
    """What the readings say together.

    Raises
    ------
    NotEnoughEvidenceError
        Without a reading.
    InputError
        If two readings have one name.
    """
    if not readings:
        raise NotEnoughEvidenceError(
            "No odometer reading; write odometer.csv with date, reading, unit and source."
        )
    names = [reading.name for reading in readings]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise InputError(field="name", got=twice, allowed="the name of one reading alone")
    ordered = in_order(readings)
    stories = stories_of(ordered)
    return OdometerResult(
        readings=ordered,
        clashes=clashes_of(ordered),
        to_doubt=to_doubt(ordered),
        stories=stories,
        distances=spans_of(stories),
        turn_km=ordered[-1].turn_km,
    )


def spans_of(stories: Sequence[Story]) -> tuple[Span, ...]:
    """Distances that fit one of the stories, without overlap, least first."""
    told = {(_micro(s.at_least_km), _micro(s.at_most_km)) for s in stories}
    joined: list[Span] = []
    for least, most in sorted(told, key=lambda span: (span[0], span[1] is not None)):
        last = joined[-1] if joined else None
        if last is None or (last.to_km is not None and last.to_km < least):
            joined.append(Span(from_km=least, to_km=most))
        elif last.to_km is not None and (most is None or most > last.to_km):
            joined[-1] = Span(from_km=last.from_km, to_km=most)
    return tuple(joined)


def _micro(km: Any) -> Any:
    """Kilometres to the millimetre: two sums of the same figures are one distance."""
    return None if km is None else round(km, 6)
