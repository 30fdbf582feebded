"""Days as whole numbers, and the calendar steps between them."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

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
    return int(_from_civil(year, month, day))


def iso_day(day: int) -> str:
    """Day number as an ISO 8601 date.

    Examples
    --------
    >>> iso_day(0), iso_day(11016)
    ('1970-01-01', '2000-02-29')
    """
    year, month, of_month = (int(part) for part in civil(day))
    sign = "-" if year < 0 else ""
    return f"{sign}{abs(year):04d}-{month:02d}-{of_month:02d}"


def civil(day: Any) -> tuple[Any, Any, Any]:
    """Year, month and day of the month of day numbers, a number or a whole array of them."""
    since = day - _MARCH_1_OF_YEAR_0
    era, of_era = since // GREGORIAN_PERIOD_DAYS, since % GREGORIAN_PERIOD_DAYS
    of_era_years = (of_era - of_era // 1460 + of_era // 36524 - of_era // 146096) // 365
    of_year = of_era - (365 * of_era_years + of_era_years // 4 - of_era_years // 100)
    from_march = (5 * of_year + 2) // 153
    of_month = of_year - (153 * from_march + 2) // 5 + 1
    month = (from_march + 2) % 12 + 1
    return of_era_years + era * 400 + (month <= 2), month, of_month


def add_months(day: int, *, months: int) -> int:
    """Same day of the month, so many months later; the last of that month where it is shorter.

    Examples
    --------
    >>> iso_day(add_months(day_number(year=1957, month=1, day=31), months=1))
    '1957-02-28'
    """
    year, month, of_month = civil(day)
    year, from_january = divmod(year * 12 + month - 1 + months, 12)
    first = _from_civil(year, from_january + 1, 1)
    after = _from_civil(year + (from_january + 1) // 12, (from_january + 1) % 12 + 1, 1)
    return int(min(first + of_month, after) - 1)


def days_plus_months(days: NDArray[np.int64], *, months: int) -> NDArray[np.int64]:
    """``add_months`` of a whole array of day numbers."""
    year, month, of_month = civil(days)
    ahead = year * 12 + month - 1 + months
    year, from_january = ahead // 12, ahead % 12
    first = _from_civil(year, from_january + 1, 1)
    after = _from_civil(year + (from_january + 1) // 12, (from_january + 1) % 12 + 1, 1)
    result: NDArray[np.int64] = np.minimum(first + of_month, after) - 1
    return result


def _from_civil(year: Any, month: Any, day: Any) -> Any:
    year = year - (month <= 2)
    era, of_era_years = year // 400, year % 400
    of_year = (153 * ((month + 9) % 12) + 2) // 5 + day - 1
    of_era = of_era_years * 365 + of_era_years // 4 - of_era_years // 100 + of_year
    return era * GREGORIAN_PERIOD_DAYS + of_era + _MARCH_1_OF_YEAR_0
