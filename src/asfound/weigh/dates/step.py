"""A distance in time from one event to another: whole months, then days."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from asfound.base import InputError
from asfound.weigh.dates.days import (
    GREGORIAN_PERIOD_DAYS,
    add_months,
    days_plus_months,
)

Unit = Literal["day", "month", "year"]
MONTHS_PER_UNIT = {"month": 1, "year": 12}
MEAN_MONTH_DAYS = GREGORIAN_PERIOD_DAYS / 4800
"""Used for a fraction of a month alone: whole months are counted on the calendar."""


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
        if self.months:
            return add_months(day, months=self.months) + self.days
        return day + self.days

    def least_reaching(self, day: int) -> int:
        """First day from which the step leads to ``day`` or later."""
        if not self.months:
            return day - self.days
        found = add_months(day - self.days, months=-self.months)
        while self.ahead(found) < day:
            found += 1
        while self.ahead(found - 1) >= day:
            found -= 1
        return found

    def last_within(self, day: int) -> int:
        """Last day from which the step leads to ``day`` or earlier."""
        return self.least_reaching(day + 1) - 1

    def ahead_of(self, days: NDArray[np.int64]) -> NDArray[np.int64]:
        """``ahead`` of a whole array of days."""
        if not self.months:
            return days + self.days
        return days_plus_months(days, months=self.months) + self.days

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
        If the amount is not finite.

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
    _check(amount)
    if unit == "day":
        return Step(days=math.ceil(amount))
    months, fraction = _whole_months(amount, unit)
    return Step(months=months, days=math.floor(fraction * MEAN_MONTH_DAYS))


def at_most(amount: float, *, unit: Unit) -> Step:
    """Step that a distance of ``amount`` or less may not pass; see ``at_least``."""
    _check(amount)
    if unit == "day":
        return Step(days=math.floor(amount))
    months, fraction = _whole_months(amount, unit)
    return Step(months=months, days=math.ceil(fraction * MEAN_MONTH_DAYS))


def _check(amount: float) -> None:
    if not math.isfinite(amount):
        raise InputError(field="amount", got=amount, allowed="a finite number")


def _whole_months(amount: float, unit: Unit) -> tuple[int, float]:
    months = round(amount * MONTHS_PER_UNIT[unit], 9)  # 1/12 year as typed is one month
    whole = math.floor(months)
    return whole, months - whole


@functools.lru_cache(maxsize=4096)
def _month_shifts(months: int) -> tuple[int, int]:
    """Fewest and most days of so many calendar months, over a whole period of the calendar."""
    if not months:
        return 0, 0
    every_day = np.arange(GREGORIAN_PERIOD_DAYS, dtype=np.int64)
    shifts = days_plus_months(every_day, months=months) - every_day
    return int(shifts.min()), int(shifts.max())
