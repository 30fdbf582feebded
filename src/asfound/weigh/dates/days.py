"""Days as whole numbers, and the calendar steps between them."""

from __future__ import annotations

from typing import Any

import numpy as np

GREGORIAN_PERIOD_DAYS = 146_097
"""The Gregorian calendar repeats after 400 years of so many days."""

_MARCH_1_OF_YEAR_0 = -719_468
"""Day number of the first day of the computational era; day 0 is 1970-01-01."""


def day_number(*, year: int, month: int = 1, day: int = 1) -> int:
    """Days from 1970-01-01 to a date of the proleptic Gregorian calendar.

    Parameters
    ----------
    year, month, day : int
        A date; year 0 is the year before year 1, as ISO 8601 counts.

    Notes
    -----
    Years are counted from March, so that the leap day is the last of its year; the months from
    March on then begin after ``(153 m + 2) // 5`` days.

    Examples
    --------
    >>> day_number(year=1970), day_number(year=2000, month=3), day_number(year=1969, month=12)
    (0, 11017, -31)
    """
    return int(first_of_month(year * 12 + month - 1)) + day - 1


def iso_day(day: int) -> str:
    """Day number as an ISO 8601 date.

    Examples
    --------
    >>> iso_day(0), iso_day(11016)
    ('1970-01-01', '2000-02-29')
    """
    months, of_month = month_and_day(day)
    year, month = divmod(months, 12)
    sign = "-" if year < 0 else ""
    return f"{sign}{abs(year):04d}-{month + 1:02d}-{of_month:02d}"


def month_and_day(day: Any) -> tuple[Any, Any]:
    """Month, counted from January of year 0, and day of the month; of a day or an array of them."""
    since = day - _MARCH_1_OF_YEAR_0
    era, of_era = since // GREGORIAN_PERIOD_DAYS, since % GREGORIAN_PERIOD_DAYS
    years = (of_era - of_era // 1460 + of_era // 36524 - of_era // 146096) // 365
    of_year = of_era - (365 * years + years // 4 - years // 100)
    from_march = (5 * of_year + 2) // 153
    of_month = of_year - (153 * from_march + 2) // 5 + 1
    return (years + era * 400) * 12 + from_march + 2, of_month


def first_of_month(month: Any) -> Any:
    """Day number of the first day of months counted from January of year 0."""
    from_march = month - 2
    years, of_year = from_march // 12, from_march % 12
    era, of_era = years // 400, years % 400
    days = of_era * 365 + of_era // 4 - of_era // 100 + (153 * of_year + 2) // 5
    return era * GREGORIAN_PERIOD_DAYS + days + _MARCH_1_OF_YEAR_0


def add_months(day: Any, *, months: int) -> Any:
    """Same day of the month, so many months later; the last of that month where it is shorter.

    Parameters
    ----------
    day : int or ndarray of int
        Day numbers.
    months : int
        May be negative.

    Examples
    --------
    >>> iso_day(add_months(day_number(year=1957, month=1, day=31), months=1))
    '1957-02-28'
    """
    month, of_month = month_and_day(day)
    arrived = month + months
    return _earlier(first_of_month(arrived) + of_month, first_of_month(arrived + 1)) - 1


def first_before_months(day: Any, *, months: int) -> Any:
    """First day from which ``add_months`` leads to ``day`` or later.

    Examples
    --------
    >>> iso_day(first_before_months(day_number(year=1957, month=3, day=30), months=1))
    '1957-03-01'
    """
    month, of_month = month_and_day(day)
    left = month - months
    return _earlier(first_of_month(left) + of_month - 1, first_of_month(left + 1))


def _earlier(one: Any, other: Any) -> Any:
    return min(one, other) if isinstance(one, int) else np.minimum(one, other)
