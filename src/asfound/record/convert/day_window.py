"""A date as people write it becomes the days that it allows."""

from __future__ import annotations

import functools
from typing import Any

from edtf import parse_edtf
from edtf.parser.edtf_exceptions import EDTFParseException

from asfound.weigh.dates.days import day_number

Days = tuple[int | None, int | None]


@functools.lru_cache(maxsize=4096)
def day_window(text: str) -> Days:
    """First and last day, as day numbers, of an EDTF date or an ISO time; ``None`` where open.

    A date with ``~`` or ``?`` reaches as far as its reader is taken to have doubted it, a year
    to either side of a year.

    Examples
    --------
    >>> day_window("1970-01-01"), day_window("1970-01-01T10:02"), day_window("../1970-01-03")
    ((0, 0), (0, 0), (None, 2))
    >>> day_window("")
    (None, None)
    """
    day = text.strip().replace(" ", "T").partition("T")[0]
    try:
        date = parse_edtf(day)
        ends = (date.lower_fuzzy(), date.upper_fuzzy())
        first, last = (_day(end) for end in ends)
    except (EDTFParseException, ValueError, TypeError, AttributeError):
        return None, None
    return first, last


def _day(end: Any) -> int | None:
    if isinstance(end, float):
        return None
    year, month, day = (int(part) for part in end[:3])
    return day_number(year=year, month=month, day=day)
