"""Spots after SSPC-PA 2: what a spot is, what may be discarded, and the spots' limits."""

from __future__ import annotations

import pytest
from shapely import box

from asfound.base import InputError
from asfound.measure.film import FilmSurvey, Panel, Reading, ShimReading, read_film
from asfound.measure.spot_limits import spot_limits_um

PANEL = Panel(panel="door", outline=box(0, 0, 900, 600))
PERFECT = tuple(ShimReading(nominal_um=n, read_um=n) for n in (0.0, 125.0, 500.0) for _ in (1, 2))


def spots(*rows: tuple[float, ...]) -> dict[str, float]:
    readings = tuple(
        Reading(panel="door", spot=str(i), x_mm=100.0 + 120 * i, y_mm=200.0, thickness_um=um)
        for i, row in enumerate(rows)
        for um in row
    )
    survey = FilmSurvey(panels=(PANEL,), readings=readings, shims=PERFECT)
    return {s.spot: s.thickness_um for s in read_film(survey).panels[0].spots}


@pytest.mark.source("SSPC-PA 2, 2.1: a spot is the mean of at least three readings in 4 cm")
def test_a_spot_is_the_mean_of_its_readings() -> None:
    told = spots((108.0, 110.0, 112.0), (120.0, 121.0, 125.0), (99.0, 101.0, 103.0))
    assert told == pytest.approx({"0": 110.0, "1": 122.0, "2": 101.0})


@pytest.mark.source("SSPC-PA 2 (2004), 3.1: an unusual reading that does not repeat is discarded")
def test_an_odd_reading_that_does_not_repeat_is_discarded() -> None:
    told = spots(
        (110.0, 111.0, 240.0), (120.0, 121.0, 122.0), (99.0, 100.0, 101.0), (130.0, 129.0, 131.0)
    )
    assert told["0"] == pytest.approx(110.5)
    assert told["1"] == pytest.approx(121.0)


@pytest.mark.source("SSPC-PA 2 (2004), 3.1: a reading that repeats stands")
def test_a_high_reading_that_repeats_stands() -> None:
    told = spots(
        (110.0, 239.0, 240.0, 111.0),
        (120.0, 121.0, 122.0),
        (99.0, 100.0, 101.0),
        (130.0, 129.0, 131.0),
    )
    assert told["0"] == pytest.approx(175.0)


@pytest.mark.source("SSPC-PA 2, worked limits: 8 to 12 mil gives 6.4 and 14.4 mil")
def test_spot_limits() -> None:
    mil = 25.4
    low, high = spot_limits_um(least_um=8 * mil, most_um=12 * mil)
    assert low / mil == pytest.approx(6.4)
    assert high / mil == pytest.approx(14.4)
    with pytest.raises(InputError):
        spot_limits_um(least_um=12.0, most_um=8.0)
