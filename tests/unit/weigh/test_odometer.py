"""Contradicting readings, and the stories that make them agree."""

from __future__ import annotations

import pytest

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.weigh.dates.days import day_number
from asfound.weigh.odometer import OdometerReading, OdometerResult, read_odometer

MILE = 1.609344


def read(year: int, shown: float, unit: str = "mile", **more: object) -> OdometerReading:
    day = day_number(year=year)
    return OdometerReading(
        **{  # type: ignore[arg-type]
            "name": f"{year}",
            "first_day": day,
            "last_day": day,
            "shown": shown,
            "unit": unit,
            "digits": 5,
            **more,
        }
    )


def kinds(result: OdometerResult) -> set[tuple[str, ...]]:
    return {tuple(f"{c.kind} {c.reading.name}" for c in s.changes) for s in result.stories}


def names(result: OdometerResult) -> list[list[str]]:
    return [[r.name for r in clash.readings] for clash in result.clashes]


def test_readings_that_agree_tell_one_distance() -> None:
    result = read_odometer([read(1960, 9_000), read(1958, 12), read(1970, 61_000)])
    assert result.clashes == ()
    assert [r.name for r in result.readings] == ["1958", "1960", "1970"]
    (only,) = result.distances
    assert only.from_km == only.to_km == pytest.approx(61_000 * MILE)


def test_the_shortest_contradicting_list_is_named() -> None:
    result = read_odometer(
        [read(1960, 9_000), read(1966, 41_870), read(1971, 38_905), read(1974, 52_140)]
    )
    assert names(result) == [["1966", "1971"]]
    assert [[r.name for r in s] for s in result.to_doubt] == [["1966"], ["1971"]]
    assert kinds(result) == {
        ("turned over 1971",),
        ("instrument changed 1971",),
        ("other unit 1966",),
        ("reading wrong 1966",),
        ("reading wrong 1971",),
    }
    assert [(round(s.from_km / MILE), s.to_km is None) for s in result.distances] == [
        (52_140, False),
        (41_870 + 52_140 - 38_905, True),
    ]


def test_a_pair_that_holds_another_is_left_out() -> None:
    result = read_odometer([read(1960, 50_000), read(1962, 20_000), read(1964, 30_000)])
    assert names(result) == [["1960", "1962"]]
    assert [[r.name for r in s] for s in result.to_doubt] == [["1960"]]


def test_a_changed_instrument_that_the_papers_name_contradicts_nothing() -> None:
    result = read_odometer(
        [
            read(1960, 50_000, instrument="first"),
            read(1962, 20, "km", instrument="second"),
            read(1964, 9_020, "km", instrument="second"),
        ]
    )
    assert result.clashes == ()
    (only,) = result.distances
    assert (only.from_km, only.to_km) == (pytest.approx(50_000 * MILE + 9_000), None)


def test_a_unit_that_changes_on_paper_alone_is_reckoned() -> None:
    result = read_odometer([read(1960, 10_000), read(1962, 17_000, "km")])
    assert result.clashes == ()
    assert read_odometer([read(1960, 10_000), read(1962, 16_093, "km")]).clashes == ()
    assert names(read_odometer([read(1960, 10_000), read(1962, 16_000, "km")])) == [
        ["1960", "1962"]
    ]


def test_without_digits_no_turn_is_told() -> None:
    result = read_odometer([read(1960, 90_000, digits=None), read(1970, 5_000, digits=None)])
    assert not any("turned" in change for story in kinds(result) for change in story)
    assert result.turn_km is None


def test_a_figure_beyond_the_dial_contradicts_alone() -> None:
    result = read_odometer([read(1960, 9_000), read(1962, 123_456), read(1964, 20_000)])
    assert names(result) == [["1962"]]
    assert kinds(result) == {("reading wrong 1962",)}
    assert result.distances[0].to_km == pytest.approx(20_000 * MILE)


def test_the_latest_reading_wrong_leaves_at_least() -> None:
    result = read_odometer([read(1960, 50_000, digits=None), read(1962, 40_000, digits=None)])
    wrong = next(s for s in result.stories if s.changes[0].reading.name == "1962")
    assert (wrong.at_least_km, wrong.at_most_km) == (50_000 * MILE, None)


def test_dates_that_overlap_are_put_as_the_figures_ask() -> None:
    month = read(
        1979,
        61_377,
        name="October",
        first_day=day_number(year=1979, month=10),
        last_day=day_number(year=1979, month=10, day=31),
    )
    fifth = day_number(year=1979, month=10, day=5)
    earlier = read(1979, 61_300, name="the fifth", first_day=fifth, last_day=fifth)
    result = read_odometer([month, earlier])
    assert result.clashes == ()
    assert [r.name for r in result.readings] == ["the fifth", "October"]


def test_two_changes_are_told_where_one_is_not_enough() -> None:
    result = read_odometer(
        [read(1960, 90_000), read(1962, 80_000), read(1964, 99_000), read(1966, 70_000)]
    )
    assert all(len(story.changes) == 2 for story in result.stories)
    assert ("turned over 1962", "turned over 1966") in kinds(result)


def test_papers_past_helping_tell_no_distance() -> None:
    falling = [read(1950 + n, 90_000 - 5_000 * n, digits=None) for n in range(12)]
    result = read_odometer(falling)
    assert result.stories == ()
    assert result.distances == ()
    assert len(result.clashes) == 11


def test_what_cannot_be_read() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        read_odometer([])
    with pytest.raises(InputError, match="name"):
        read_odometer([read(1960, 1), read(1960, 2)])
