"""Dates as people write them become years with a fraction."""

from __future__ import annotations

import re
from calendar import isleap
from datetime import date
from functools import lru_cache

from asfound.record.convert.edtf_library import End, edtf_ends

_ISO_TIME = re.compile(r"(\d{4}-\d{2}-\d{2})[T ]")


@lru_cache(maxsize=10_000)  # the parser takes milliseconds, and a sheet has few days
def decimal_year(text: str) -> float | None:
    """Middle of the time that an EDTF date or an ISO time names; None where it is open or no date.

    Examples
    --------
    >>> decimal_year("1957"), decimal_year("1958/1963"), decimal_year("../1970"), decimal_year("")
    (1957.5, 1961.0, None, None)
    >>> round(decimal_year("2026-07-02T10:02"), 2)
    2026.5
    """
    at_time = _ISO_TIME.match(text.strip())
    try:
        first, last = edtf_ends(at_time[1] if at_time else text.strip())
    except ValueError:
        return None
    if first is None or last is None:
        return None
    return (_year(first) + _year(last, end_of_day=1)) / 2


def _year(day: End, *, end_of_day: int = 0) -> float:
    year = day[0]
    of_year = date(*day).timetuple().tm_yday - 1 + end_of_day
    return year + of_year / (366 if isleap(year) else 365)
