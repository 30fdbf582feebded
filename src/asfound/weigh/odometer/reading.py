"""A dated reading of an odometer, and readings in the order of their dates."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from asfound.base import InputError

Unit = Literal["km", "mile"]
KM_IN: dict[str, float] = {"km": 1.0, "mile": 1.609344}
"""Kilometres in a unit; the international mile of 1959 is exactly 1.609344 km."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OdometerReading:
    """What an odometer showed on a day.

    Parameters
    ----------
    name : str
        How people know the reading, such as its date and paper; unique.
    first_day, last_day : int or None
        Days between which it was read; ``None`` where open.
    shown : float
        The figure, 0 or more, in ``unit``.
    unit : {"km", "mile"}
    digits : int or None
        Whole digits of the dial; ``None`` where nobody said, and then no turn can be counted.
    instrument : str
        Which one; readings that name another one after the last say that it was changed.
    """

    name: str
    first_day: int | None
    last_day: int | None
    shown: float
    unit: Unit
    digits: int | None = None
    instrument: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.shown) and self.shown >= 0):
            raise InputError(field="reading", got=self.shown, allowed="zero or more")
        if self.digits is not None and self.digits < 1:
            raise InputError(field="digits", got=self.digits, allowed="1 or more")

    @property
    def km(self) -> float:
        """Figure in kilometres, as its unit is written."""
        return self.shown * KM_IN[self.unit]

    @property
    def turn_km(self) -> float | None:
        """Distance of a full turn of the dial [km]; ``None`` where its digits are not known."""
        return None if self.digits is None else float(10**self.digits) * KM_IN[self.unit]

    @property
    def beyond_dial(self) -> bool:
        """Whether the dial has too few digits to show the figure."""
        return self.digits is not None and self.shown >= 10**self.digits

    @property
    def other_unit(self) -> OdometerReading:
        """The same figure, taken to be in the other unit."""
        return replace(self, unit="km" if self.unit == "mile" else "mile")

    @property
    def middle_day(self) -> float | None:
        """Middle of the days between which it was read; an open end is passed over."""
        known = [day for day in (self.first_day, self.last_day) if day is not None]
        return sum(known) / len(known) if known else None


def surely_before(one: OdometerReading, other: OdometerReading) -> bool:
    """Whether every day of the first lies before every day of the second."""
    if one.last_day is None or other.first_day is None:
        return False
    return one.last_day < other.first_day


def in_order(readings: Sequence[OdometerReading]) -> tuple[OdometerReading, ...]:
    """Readings by date; where dates overlap, in the order that the figures ask."""
    ordered = sorted(
        readings,
        key=lambda r: (
            -math.inf if r.first_day is None else r.first_day,
            math.inf if r.last_day is None else r.last_day,
            r.km,
        ),
    )
    for _ in ordered:
        swapped = False
        for place in range(len(ordered) - 1):
            one, two = ordered[place], ordered[place + 1]
            if _may_swap(one, two):
                ordered[place], ordered[place + 1], swapped = two, one, True
        if not swapped:
            break
    return tuple(ordered)


def _may_swap(one: OdometerReading, two: OdometerReading) -> bool:
    return one.instrument == two.instrument and one.km > two.km and not surely_before(one, two)
