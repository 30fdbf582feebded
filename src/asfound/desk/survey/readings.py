"""The observations of one panel, ready to be shown: who, when, which gauge, and their fate."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from asfound.record.models import FilmReading

SHOWN = 300
_NUMBERED = re.compile(r"(.*?)(\d+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLine:
    """One gauge reading as the list shows it."""

    pk: int
    spot: str
    x_mm: float
    y_mm: float
    thickness_um: float
    gauge: str
    by_words: str
    taken_words: str
    fate: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotLine:
    """The readings of one spot that count, by one person with one gauge."""

    spot: str
    x_mm: float
    y_mm: float
    gauge: str
    by_words: str
    taken_words: str
    readings: tuple[ReadingLine, ...]


def spot_lines(readings: Iterable[ReadingLine]) -> list[SpotLine]:
    """Lines of the spots in the order met; readings taken otherwise have lines of their own."""
    met: dict[tuple[str, ...], list[ReadingLine]] = {}
    for reading in readings:
        if not reading.fate:
            by = (reading.spot, reading.gauge, reading.by_words, reading.taken_words[:10])
            met.setdefault(by, []).append(reading)
    return [_spot_line(found) for found in met.values()]


def _spot_line(readings: list[ReadingLine]) -> SpotLine:
    first = readings[0]
    return SpotLine(
        spot=first.spot,
        x_mm=first.x_mm,
        y_mm=first.y_mm,
        gauge=first.gauge,
        by_words=first.by_words,
        taken_words=first.taken_words,
        readings=tuple(readings),
    )


def reading_line(reading: FilmReading) -> ReadingLine:
    """Line of a reading."""
    return ReadingLine(
        pk=reading.pk,
        spot=reading.spot,
        x_mm=reading.x_mm,
        y_mm=reading.y_mm,
        thickness_um=reading.thickness_um,
        gauge=reading.gauge,
        by_words=reading.by or "not known",
        taken_words=reading.taken_at.replace("T", " ").removesuffix("Z") or "not known",
        fate=_fate(reading),
    )


def _fate(reading: FilmReading) -> str:
    corrected: Any = reading.superseded_by
    if corrected is not None:
        return f"corrected to {corrected.thickness_um:g} µm: {reading.reason}"
    if reading.withdrawn_at is not None:
        return f"withdrawn: {reading.reason}"
    return ""


def next_spot(spots: Iterable[str]) -> str:
    """Name for a new spot: the last numbered one of the panel, counted on.

    Examples
    --------
    >>> next_spot(["BN01", "BN09", "edge"])
    'BN10'
    """
    found = [match for spot in spots if (match := _NUMBERED.fullmatch(spot))]
    if not found:
        return "1"
    last = max(found, key=lambda match: int(match[2]))
    return f"{last[1]}{int(last[2]) + 1:0{len(last[2])}d}"
