"""A distance in time from one event to another: whole months, then days."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from asfound.base import InputError
from asfound.weigh.dates.days import (
    GREGORIAN_PERIOD_DAYS,
    add_months,
    first_before_months,
    first_of_month,
)

Unit = Literal["day", "month", "year"]
MONTHS_PER_UNIT = {"month": 1, "year": 12}
MEAN_MONTH_DAYS = GREGORIAN_PERIOD_DAYS / 4800
"""Used for a fraction of a month alone: whole months are counted on the calendar."""
MOST_YEARS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """So many months on the calendar, then so many days; either may be negative.

    Notes
    -----
    A later day never leads to an earlier one, which is what makes the tightest windows exact
    although months differ in length. The last days of a long month can lead to one and the same
    day, so a step has two ways back: the first and the last day from which it leads there.
    """

    months: int = 0
    days: int = 0

    def ahead(self, day: int) -> int:
        """Day that lies the step after ``day``."""
        return int(self.ahead_of(day))

    def least_reaching(self, day: int) -> int:
        """First day from which the step leads to ``day`` or later."""
        return int(self.least_reaching_of(day))

    def last_within(self, day: int) -> int:
        """Last day from which the step leads to ``day`` or earlier."""
        return self.least_reaching(day + 1) - 1

    def ahead_of(self, days: Any) -> Any:
        """``ahead`` of a whole array of days."""
        if not self.months:
            return days + self.days
        return add_months(days, months=self.months) + self.days

    def least_reaching_of(self, days: Any) -> Any:
        """``least_reaching`` of a whole array of days."""
        if not self.months:
            return days - self.days
        return first_before_months(days - self.days, months=self.months)

    def shifts(self) -> tuple[int, int]:
        """Fewest and most days that the step can come to, wherever it begins."""
        fewest, most = _month_shifts(self.months)
        return fewest + self.days, most + self.days


def at_least(amount: float, *, unit: Unit) -> Step:
    """Step that a distance of ``amount`` or more must reach.

    Parameters
    ----------
    amount : float
        In ``unit``; may be negative.
    unit : {"day", "month", "year"}

    Raises
    ------
    InputError
        If the amount is no number or of more than 100,000 years.

    Notes
    -----
    Days are whole, so 0.5 day or more is a day or more. Twelve months are a year; a fraction of
    a month becomes days of a mean month (30.436875), rounded so that the step claims no more
    than was said.

    Examples
    --------
    >>> at_least(1.5, unit="year"), at_least(0.5, unit="day")
    (Step(months=18, days=0), Step(months=0, days=1))
    """
    _check(amount, unit)
    if unit == "day":
        return Step(days=math.ceil(amount))
    months, fraction = _whole_months(amount, unit)
    return Step(months=months, days=math.floor(fraction * MEAN_MONTH_DAYS))


def at_most(amount: float, *, unit: Unit) -> Step:
    """Step that a distance of ``amount`` or less may not pass; see ``at_least``."""
    _check(amount, unit)
    if unit == "day":
        return Step(days=math.floor(amount))
    months, fraction = _whole_months(amount, unit)
    return Step(months=months, days=math.ceil(fraction * MEAN_MONTH_DAYS))


def _check(amount: float, unit: Unit) -> None:
    years = amount / {"day": 12 * MEAN_MONTH_DAYS, "month": 12, "year": 1}[unit]
    if not abs(years) <= MOST_YEARS:
        raise InputError(
            field="amount",
            got=amount,
            allowed=f"a number of at most {MOST_YEARS:,} years either way",
            remedy="Check the number and its unit.",
        )


def _whole_months(amount: float, unit: Unit) -> tuple[int, float]:
    months = round(amount * MONTHS_PER_UNIT[unit], 9)  # 1/12 year as typed is one month
    whole = math.floor(months)
    return whole, months - whole


@functools.lru_cache(maxsize=4096)
def _month_shifts(months: int) -> tuple[int, int]:
    """Fewest and most days of so many calendar months.

    The most is met from the first of a month, the fewest there or from the last of a month that
    is longer than the one arrived in.
    """
    first, length = _months_of_a_period()
    arrived = np.arange(len(first)) + months
    periods, within = arrived // len(first), arrived % len(first)
    shift = first[within] + periods * GREGORIAN_PERIOD_DAYS - first
    shorter = np.minimum(length[within] - length, 0)
    return int((shift + shorter).min()), int(shift.max())


@functools.cache
def _months_of_a_period() -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First day and length of every month in 400 years."""
    months = np.arange(400 * 12 + 1)
    first = first_of_month(months)
    return first[:-1], np.diff(first)
