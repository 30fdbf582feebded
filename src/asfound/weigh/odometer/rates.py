"""Distance a year between readings, beside what vehicles covered on average."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

from asfound.weigh.odometer.explain import Stretch
from asfound.weigh.odometer.reading import KM_IN

PUBLISHED_MILES: Mapping[int, float] = MappingProxyType(
    {
        1960: 9_700,
        1965: 9_800,
        1970: 10_000,
        1975: 9_600,
        1980: 9_500,
        1985: 10_000,
        1990: 11_100,
        1995: 11_800,
        2000: 12_200,
        2002: 12_200,
    }
)
"""Average miles a year and vehicle, all motor vehicles of the United States: Bureau of
Transportation Statistics, National Transportation Statistics 2003, table 4-9."""
SOURCE = "US average of all motor vehicles, BTS National Transportation Statistics 2003, table 4-9"
USUAL = (0.5, 2.0)
"""Within these times the average a rate is called usual (a choice of ours, no source)."""
DAYS_IN_YEAR = 365.2425
_LEAST_DAYS = 30
_EPOCH_YEAR = 1970


@dataclass(frozen=True, slots=True, kw_only=True)
class YearlyRate:
    """Distance a year over a stretch, and the published average for its middle.

    ``published_km`` is ``None`` outside the years of the table, which is never stretched.
    """

    stretch: Stretch
    km_a_year: float
    published_km: float | None

    @property
    def times(self) -> float | None:
        """How many times the average; ``None`` where none is published."""
        return None if self.published_km is None else self.km_a_year / self.published_km

    @property
    def words(self) -> str:
        """How the rate lies to the average; a plausibility, never a proof."""
        if self.times is None:
            return "no published average for those years"
        if self.times > USUAL[1]:
            return f"{self.times:.1f} times the average"
        return "less than half the average" if self.times < USUAL[0] else "about the average"


def published_km(year: float) -> float | None:
    """Published average of a year [km], straight between the years of the table.

    Examples
    --------
    >>> published_km(1970.0) == 10_000 * 1.609344, published_km(1931.0)
    (True, None)
    """
    years = sorted(PUBLISHED_MILES)
    for first, last in pairwise(years):
        if first <= year <= last:
            share = (year - first) / (last - first)
            miles = (1 - share) * PUBLISHED_MILES[first] + share * PUBLISHED_MILES[last]
            return miles * KM_IN["mile"]
    return None


def rates_of(stretches: Iterable[Stretch]) -> Iterator[YearlyRate]:
    """Rate of every stretch of a month or more whose days are known."""
    for stretch in stretches:
        start, end = stretch.first.middle_day, stretch.second.middle_day
        if start is None or end is None or end - start < _LEAST_DAYS:
            continue
        middle = _EPOCH_YEAR + (start + end) / 2 / DAYS_IN_YEAR
        yield YearlyRate(
            stretch=stretch,
            km_a_year=stretch.km / (end - start) * DAYS_IN_YEAR,
            published_km=published_km(middle),
        )
