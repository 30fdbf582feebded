"""Odometers: exact units, turns of the dial, and published averages."""

from __future__ import annotations

import pytest

from asfound.weigh.dates.days import day_number
from asfound.weigh.odometer import (
    OdometerReading,
    Stretch,
    published_km,
    rates_of,
    read_odometer,
)


def reading(year: int, shown: float, unit: str = "mile", **more: object) -> OdometerReading:
    day = day_number(year=year)
    return OdometerReading(
        name=f"{year}: {shown:g}",
        first_day=day,
        last_day=day,
        shown=shown,
        unit=unit,  # type: ignore[arg-type]
        **{"digits": 5, "instrument": "speedometer", **more},  # type: ignore[arg-type]
    )


@pytest.mark.source("International mile of 1959: 1.609344 km exactly; 60 934 mile = 98 063.77 km")
def test_miles_in_km() -> None:
    assert reading(1970, 60_934).km == pytest.approx(98_063.77, abs=0.005)


@pytest.mark.source("49 CFR 580: a dial of five digits starts anew after 99 999")
def test_five_digits_turn_over_after_99_999() -> None:
    result = read_odometer([reading(1970, 99_990), reading(1971, 10)])
    turned = next(s for s in result.stories if s.changes[0].kind == "turned over")
    assert turned.stretches[0].km == pytest.approx(20 * 1.609344)
    assert turned.at_least_km == turned.at_most_km == pytest.approx(100_010 * 1.609344)
    assert result.turn_km == pytest.approx(100_000 * 1.609344)


@pytest.mark.source("BTS National Transportation Statistics 2003, table 4-9, all motor vehicles")
@pytest.mark.parametrize(
    ("year", "miles"),
    [(1960, 9_700), (1970, 10_000), (1980, 9_500), (1990, 11_100), (2002, 12_200)],
)
def test_published_averages(year: int, miles: float) -> None:
    found = published_km(float(year))
    assert found is not None
    assert found / 1.609344 == pytest.approx(miles)


@pytest.mark.source("The same table begins in 1960 and ends in 2002")
@pytest.mark.parametrize("year", [1931.0, 1959.9, 2002.1, 2026.0])
def test_the_table_is_never_stretched(year: float) -> None:
    assert published_km(year) is None


@pytest.mark.source("BTS table 4-9, 1965 and 1970: 9 800 and 10 000 mile")
def test_a_rate_beside_the_average() -> None:
    stretch = Stretch(
        first=reading(1965, 10_000), second=reading(1970, 60_000), km=50_000 * 1.609344
    )
    (rate,) = rates_of([stretch])
    assert rate.km_a_year / 1.609344 == pytest.approx(10_000, rel=1e-3)
    assert rate.times == pytest.approx(10_000 / 9_900, rel=1e-3)
    assert rate.words == "about the average"
