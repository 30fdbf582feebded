"""An EDTF date (ISO 8601-2) becomes the first and the last day that it allows."""

from __future__ import annotations

import functools
import re

from asfound.record.convert.edtf_library import edtf_ends
from asfound.weigh.dates.days import add_months, day_number

Days = tuple[int | None, int | None]

_PLAIN = re.compile(
    r"(?P<year>-?\d{4}|\d{3}X|\d{2}XX)"
    r"(?:-(?P<month>0[1-9]|1[0-2]|2[1-4]|XX)(?:-(?P<day>\d{2}|XX))?)?"
    r"(?P<doubt>[~?%]?)"
)
_OPEN = ("", "..")
_SEASONS = {21: 3, 22: 6, 23: 9, 24: 12}
"""First months of spring, summer, autumn and winter in the north; winter ends in the next year."""
_DOUBT_UNITS = {"": 0, "~": 1, "?": 1, "%": 2}


@functools.lru_cache(maxsize=16384)
def edtf_days(text: str) -> Days:
    """First and last day, as day numbers; ``None`` where the date is open or that end unknown.

    Parameters
    ----------
    text : str
        A date or an interval.

    Raises
    ------
    ValueError
        If it is no date as EDTF writes it.

    Notes
    -----
    ``~`` (about) and ``?`` (uncertain) let a date reach one of its own units further to either
    side: a year for a year, a month for a month, a day for a day; ``%`` (both) two. The standard
    gives no width; this is the program's rule. Seasons are those of meteorologists in the north.

    References
    ----------
    ISO 8601-2:2019, clauses 4 and 8 (levels 0 to 2).

    Examples
    --------
    >>> edtf_days("1970"), edtf_days("1970-02"), edtf_days("../1970-01-01")
    ((0, 364), (31, 58), (None, 0))
    >>> edtf_days("1970~") == (edtf_days("1969")[0], edtf_days("1971")[1])
    True
    """
    parts = text.split("/")
    if len(parts) == 1:
        return _date(text)
    if len(parts) != 2 or (text != "../.." and all(part in _OPEN for part in parts)):
        raise ValueError(text)
    first, last = (None if part in _OPEN else _date(part) for part in parts)
    return first and first[0], last and last[1]


def _date(text: str) -> Days:
    plain = _PLAIN.fullmatch(text)
    if plain is None:
        return _by_the_library(text)
    first, last, (months, days) = _span(plain)
    units = _DOUBT_UNITS[plain["doubt"]]
    return (
        add_months(first, months=-months * units) - days * units,
        add_months(last + 1, months=months * units) - 1 + days * units,
    )


def _span(plain: re.Match[str]) -> tuple[int, int, tuple[int, int]]:
    """First and last day of a date without its doubt, and its unit in months and days."""
    year, month, day = plain["year"], plain["month"] or "XX", plain["day"] or "XX"
    years = 10 ** year.count("X")
    first_year = int(year.replace("X", "0"))
    if month == "XX" or years > 1:
        if day != "XX" or month != "XX":
            raise ValueError(plain[0])
        return *_months(first_year, 1, 12 * years), (12 * years, 0)
    if int(month) in _SEASONS:
        if plain["day"]:
            raise ValueError(plain[0])
        return *_months(first_year, _SEASONS[int(month)], 3), (3, 0)
    first, last = _months(first_year, int(month), 1)
    if day == "XX":
        return first, last, (1, 0)
    if not 1 <= int(day) <= last - first + 1:
        raise ValueError(plain[0])
    return first + int(day) - 1, first + int(day) - 1, (0, 1)


def _months(year: int, month: int, months: int) -> tuple[int, int]:
    first = day_number(year=year, month=month)
    return first, add_months(first, months=months) - 1


def _by_the_library(text: str) -> Days:
    """Sets, long years and doubt in parts of a date, which few people write."""
    first, last = (
        end and day_number(year=end[0], month=end[1], day=end[2])
        for end in edtf_ends(text, with_doubt=True)
    )
    return first, last
