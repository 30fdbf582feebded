"""Working days and absences as people write them."""

from __future__ import annotations

import re
from datetime import date

from asfound.record.convert.edtf_library import edtf_ends

_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LONG_AGO, _FOR_EVER = date.min, date.max


def weekdays(text: str) -> frozenset[int] | None:
    """Days of the week, 0 for Monday; Monday to Friday for an empty cell, None if not readable.

    Examples
    --------
    >>> sorted(weekdays("Mon–Wed; Sat")), sorted(weekdays("")), weekdays("Mo-We-Fr")
    ([0, 1, 2, 5], [0, 1, 2, 3, 4], None)
    """
    if not text.strip():
        return frozenset(range(5))
    found: set[int] = set()
    for part in re.split(r"[;,]|\s+and\s+", re.sub(r"\s*[-–—]\s*", "–", text.strip())):
        for word in part.split():
            days = _span(word)
            if days is None:
                return None
            found |= days
    return frozenset(found) or None


def _span(word: str) -> set[int] | None:
    ends = [_day(name) for name in word.split("–")]
    if len(ends) > 2 or None in ends:
        return None
    first, last = ends[0], ends[-1]
    assert first is not None and last is not None  # noqa: PT018 - one state: both were read
    return {(first + step) % 7 for step in range((last - first) % 7 + 1)}


def _day(name: str) -> int | None:
    """Day by its English name or as much of it as is clear, or by its ISO number, 1 for Monday."""
    name = name.strip(". ").lower()
    if len(name) == 1 and name in "1234567":
        return int(name) - 1
    match = [i for i, day in enumerate(_NAMES) if len(name) >= 2 and day.startswith(name)]
    return match[0] if len(match) == 1 else None


def absence(text: str) -> tuple[date, date]:
    """First and last day of an absence in EDTF; ``date.max`` where its end is open.

    Raises
    ------
    ValueError
        If it is not a date or an interval, or ends before it begins.

    Examples
    --------
    >>> absence("2024-05-06/2024-05-10")
    (datetime.date(2024, 5, 6), datetime.date(2024, 5, 10))
    >>> absence("2024-05")[1], absence("2024-05-06/..")[1]
    (datetime.date(2024, 5, 31), datetime.date(9999, 12, 31))
    """
    text = text.strip()
    ends = edtf_ends(text.removesuffix("/") + "/.." if text.endswith("/") else text)
    first = _LONG_AGO if ends[0] is None else date(*ends[0])
    last = _FOR_EVER if ends[1] is None else date(*ends[1])
    if last < first:
        raise ValueError(f"{text!r} ends before it begins")
    return first, last


def absences(text: str) -> list[tuple[date, date]]:
    """Every absence of a cell, ``;`` or ``,`` between them.

    Raises
    ------
    ValueError
        If one of them cannot be read.
    """
    return [absence(part) for part in re.split("[;,]", text) if part.strip()]


def first_day(text: str) -> date | None:
    """First day that an EDTF date allows; None where it is empty, open or no date."""
    try:
        first, _ = absence(text)
    except ValueError:
        return None
    return None if first == _LONG_AGO else first


def last_day(text: str) -> date | None:
    """Last day that an EDTF date allows; None where it is empty, open or no date."""
    try:
        _, last = absence(text)
    except ValueError:
        return None
    return None if last == _FOR_EVER else last
