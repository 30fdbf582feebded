"""Readings that make a place, occasions that make a rate, and a sheet that goes first."""

from __future__ import annotations

import pytest

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.metal import (
    CarMetal,
    ClimatePeriod,
    MetalReading,
    MetalSubject,
    MetalSurvey,
    bare_loss,
    depth_after,
    nominal,
    nominal_in_mm,
    places_of,
    read_metal,
)


def reading(thickness_mm: float, *, x_mm: float = 0, year: float | None = None) -> MetalReading:
    return MetalReading(x_mm=x_mm, y_mm=0, thickness_mm=thickness_mm, u_mm=0.01, year=year)


def read(
    *readings: MetalReading, least_mm: float | None = 0.5, built: float | None = 1960
) -> CarMetal:
    subject = MetalSubject(
        subject="sill",
        kind="panel",
        readings=readings,
        nominal=nominal_in_mm(1.0),
        tolerance_mm=0.02,
        least_mm=least_mm,
    )
    return read_metal(MetalSurvey(subjects=(subject,), built_year=built))


def test_a_place_is_what_lies_within_four_centimetres_of_its_first_reading() -> None:
    places = places_of([reading(0.9), reading(0.7, x_mm=40), reading(0.5, x_mm=41)])
    assert [(p.x_mm, p.last.readings_n) for p in places] == [(0, 2), (41, 1)]
    assert places[0].last.thickness_mm == pytest.approx(0.8)


def test_of_a_place_the_last_occasion_counts_and_undated_readings_give_way() -> None:
    (place,) = places_of([reading(0.9), reading(0.6, year=2026.1), reading(0.8, year=2016)])
    assert [(o.year, o.thickness_mm) for o in place.occasions] == [
        (None, 0.9),
        (2016, 0.8),
        (2026.1, 0.6),
    ]
    assert place.last.thickness_mm == 0.6


def test_readings_of_one_year_are_one_occasion() -> None:
    (place,) = places_of([reading(0.9, year=2025.9), reading(0.7, year=2026.2)])
    assert [o.readings_n for o in place.occasions] == [2]


def test_the_greater_rate_governs_and_the_thinnest_place_goes_first() -> None:
    """Long 0.4 mm in 60 years, short 0.2 mm in 10: (0.6 - 0.5)/0.02 = 5 years."""
    found = read(
        reading(0.8, year=2010), reading(0.6, year=2020), reading(0.95, x_mm=500, year=2020)
    ).subjects[0]
    assert found.life is not None
    assert found.life.life.governing == "short"
    assert found.life.life.short_rate_mm_a == pytest.approx(0.02)
    assert found.life.life.long_rate_mm_a == pytest.approx(0.4 / 60)
    assert found.life.life.years == pytest.approx(5)
    assert found.life.rate_told
    assert found.life.place.x_mm == 0


def test_the_error_against_it_shortens_the_life() -> None:
    """U = 1.96·√2·0.01 = 0.0277 over ten years; 0.6 - 0.0196 - 0.5 mm are left: 3.53 years."""
    found = read(reading(0.8, year=2010), reading(0.6, year=2020)).subjects[0]
    assert found.life is not None
    assert found.life.years_low == pytest.approx((0.1 - 0.0196) / ((0.2 + 0.02772) / 10), abs=0.01)


def test_the_thinnest_of_many_must_be_thinner_to_be_told() -> None:
    """u = √(0.01² + 0.02²/3) = 0.01528; 0.035 is beyond 1.96·u and within 2.57·u of five."""
    one = read(reading(0.965)).subjects[0].loss
    five = read(*(reading(0.965 if i == 0 else 1.0, x_mm=100 * i) for i in range(5))).subjects[0]
    assert one is not None
    assert five.loss is not None
    assert one.told_apart
    assert not five.loss.told_apart
    assert five.loss.limit_mm == pytest.approx(2.57 * 0.01528, abs=2e-4)


def test_the_nominal_when_built_is_the_first_thickness() -> None:
    """0.4 mm in 50 years, 0.1 mm left above the least: 12.5 years."""
    found = read(reading(0.6, year=2010)).subjects[0]
    assert found.life is not None
    assert found.life.from_nominal
    assert found.life.life.years == pytest.approx(12.5)


def test_a_rate_within_the_methods_error_is_not_called_told() -> None:
    found = read(reading(0.98, year=2010)).subjects[0]
    assert found.life is not None
    assert not found.life.rate_told


@pytest.mark.parametrize(
    ("readings", "least_mm", "built", "words"),
    [
        ((reading(0.6, year=2010),), None, 1960, "nobody has decided"),
        ((reading(0.6),), 0.5, 1960, "a rate needs"),
        ((reading(0.6, year=2010),), 0.5, None, "a rate needs"),
    ],
)
def test_without_grounds_no_life_is_computed(
    readings: tuple[MetalReading, ...], least_mm: float | None, built: float | None, words: str
) -> None:
    found = read(*readings, least_mm=least_mm, built=built).subjects[0]
    assert found.life is None
    assert words in found.life_missing


def test_without_a_nominal_nothing_is_said_of_loss() -> None:
    subject = MetalSubject(subject="frame", kind="part", readings=(reading(2.4),))
    found = read_metal(MetalSurvey(subjects=(subject,))).subjects[0]
    assert found.loss is None
    assert "not known" in found.note
    assert found.left_mm.value == 2.4


def test_the_loss_keeps_the_system_of_its_nominal() -> None:
    subject = MetalSubject(
        subject="sill",
        kind="panel",
        readings=(reading(0.7),),
        nominal=nominal(system="MSG", gauge=20),
    )
    loss = read_metal(MetalSurvey(subjects=(subject,))).subjects[0].loss
    assert loss is not None
    assert (loss.nominal.system, loss.nominal.gauge) == ("MSG", 20)
    assert loss.mean_loss_mm.value == pytest.approx(0.0359 * 25.4 - 0.7)


def test_nothing_read_is_not_enough() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        read_metal(MetalSurvey(subjects=()))


@pytest.mark.parametrize("wrong", [0.0, -0.1, float("nan")])
def test_a_hole_is_no_thickness(wrong: float) -> None:
    with pytest.raises(InputError, match="hole"):
        reading(wrong)


def period(since: float, until: float, um: float) -> ClimatePeriod:
    return ClimatePeriod(
        since_year=since, until_year=until, category="C3", low_um_a=um, high_um_a=um
    )


def test_one_climate_in_two_pieces_is_one_climate() -> None:
    split = bare_loss([period(1960, 1972, 40), period(1972, 1995, 40)])
    assert split.low_um == pytest.approx(depth_after(years=35, first_year_um_a=40))
    assert split.years == pytest.approx(35)


def test_years_that_nobody_knows_count_as_none() -> None:
    gap = bare_loss([period(1960, 1970, 40), period(1980, 1990, 40)])
    assert gap.high_um == pytest.approx(depth_after(years=20, first_year_um_a=40))
    assert gap.unknown_years == pytest.approx(10)


def test_the_same_air_takes_less_from_old_rust_than_from_bare_steel() -> None:
    first = bare_loss([period(1960, 1965, 80), period(1965, 1990, 0)]).low_um
    last = bare_loss([period(1960, 1985, 0), period(1985, 1990, 80)]).low_um
    assert 0 < last < first


@pytest.mark.parametrize(
    "periods", [[], [period(1960, 1980, 40), period(1975, 1990, 40)]], ids=["none", "overlap"]
)
def test_a_history_that_cannot_be_is_refused(periods: list[ClimatePeriod]) -> None:
    with pytest.raises(InputError):
        bare_loss(periods)
