"""What the base expects of a new car with none, one, two and many cars."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from asfound.base import InputError
from asfound.measure.base_of_films import BANDS, DISAGREE, CarBuild, expected_film


def build(
    car: str, level_um: float, *, kind: str = "hand-finished", year: float = 1962
) -> CarBuild:
    return CarBuild(car=car, kind=kind, year=year, level_um=level_um, u_log=0.04)


def width(base: list[CarBuild], kind: str = "hand-finished") -> float:
    found = expected_film(base, kind=kind, year=1962)
    return math.log(found.high_um / found.low_um)


def test_no_car_gives_the_wide_guess_and_says_so() -> None:
    found = expected_film([], kind="hand-finished", year=1965)
    assert found.level_um == pytest.approx(200)
    assert found.high_um / found.low_um > 10
    assert "no car" in found.words


def test_one_and_two_cars_pull_but_do_not_decide() -> None:
    one = expected_film([build("first", 550)], kind="hand-finished", year=1962)
    two = expected_film(
        [build("first", 550), build("second", 530)], kind="hand-finished", year=1962
    )
    assert 300 < one.level_um < 550
    assert one.level_um < two.level_um < 550
    assert one.low_um < 550 < one.high_um
    assert "1 car of" in one.words
    assert (two.cars_n, two.kind_cars_n) == (2, 2)


def test_each_car_of_the_kind_narrows() -> None:
    widths = [width([build(f"c{i}", 540) for i in range(n)]) for n in (0, 1, 2, 4, 8, 16)]
    assert widths == sorted(widths, reverse=True)


def test_another_kind_says_less_than_its_own() -> None:
    base = [build(f"c{i}", 540 + 10 * i) for i in range(4)]
    assert width(base) < width(base, kind="works-sprayed") < width([])


def test_a_thin_kind_leans_on_the_others() -> None:
    many = [build(f"m{i}", 120, kind="works-sprayed", year=1990) for i in range(12)]
    lone = build("lone", 300, kind="open two-seater", year=1990)
    found = expected_film([*many, lone], kind="open two-seater", year=1990)
    assert 120 < found.level_um < 300


def test_order_does_not_matter() -> None:
    base = [build("a", 500), build("b", 560), build("c", 140, kind="works-sprayed", year=1995)]
    one, two = (expected_film(b, kind="hand-finished", year=1960) for b in (base, base[::-1]))
    assert one.log_level.value == pytest.approx(two.log_level.value, abs=1e-12)
    assert one.log_level.u == pytest.approx(two.log_level.u, abs=1e-12)


def test_intervals_hold_new_cars_as_often_as_they_say() -> None:
    """Cars drawn from the model with known spreads; 300 new cars against their 90 % intervals."""
    rng = np.random.default_rng(12)
    held = 0
    for _ in range(60):
        kinds = rng.normal(math.log(250), 0.4, 4)
        base = [
            build(f"{k}-{i}", math.exp(rng.normal(kinds[k], 0.15)), kind=str(k), year=1965)
            for k in range(4)
            for i in range(5)
        ]
        found = expected_film(base, kind="2", year=1965)
        new = np.exp(rng.normal(kinds[2], 0.15, 5))
        held += int(((new > found.low_um) & (new < found.high_um)).sum())
    assert 0.84 < held / 300 < 0.97


def test_refusals() -> None:
    with pytest.raises(InputError, match="each car once"):
        expected_film([build("a", 500), build("a", 510)], kind="k", year=1960)
    with pytest.raises(InputError):
        expected_film([], kind="k", year=60)
    with pytest.raises(InputError):
        expected_film([], kind="k", year=1960, coverage=1.0)
    with pytest.raises(InputError):
        build("a", 0)


@pytest.mark.common_practice
def test_trade_facts_stand_among_the_bands() -> None:
    """About 550 µm by hand in the 1960s, at most about 180 µm from a modern works: no source."""
    trade = [b for b in BANDS if b.status == "common practice, no source"]
    assert any(b.holds(550) and "1960s" in b.era for b in trade)
    assert any(b.holds(180) and not b.holds(181) for b in trade)


def test_bands_disagree_and_say_so() -> None:
    assert {b.low_um for b in BANDS if b.about == "filler"} == {300, 500, 1000}
    by_hand = [b for b in BANDS if b.about != "filler" and b.holds(450)]
    assert any(b.about == "repainted" for b in by_hand)
    assert all(b.source and b.low_um < b.high_um for b in BANDS)
    assert "disagree" in DISAGREE


def test_a_band_speaks_of_its_years_and_marque_and_of_what_is_not_known() -> None:
    by_hand = next(b for b in BANDS if b.era == "1960s, finished by hand")
    fits = [
        by_hand.fits(first_year=a, last_year=b, marque="Orvelle")
        for a, b in [(1962, 1962), (1958, 1960), (1958, 1959), (1970, None), (None, None)]
    ]
    assert fits == [True, True, False, False, True]
    ours = replace(by_hand, marque="Orvelle")
    met = [
        ours.fits(first_year=1962, last_year=1962, marque=m) for m in (" orvelle", "Selvany", "")
    ]
    assert met == [True, False, True]


@pytest.mark.parametrize(
    ("band_um", "level_um", "words", "place"),
    [
        ((500, 600), 548.0, "500 to 600 µm", "in it"),
        ((500, 600), 450.0, "500 to 600 µm", "below it"),
        ((0, 180), 548.0, "at most 180 µm", "above it"),
        ((300, math.inf), 548.0, "more than 300 µm", "in it"),
    ],
)
def test_a_band_in_words(
    band_um: tuple[float, float], level_um: float, words: str, place: str
) -> None:
    band = replace(BANDS[0], low_um=band_um[0], high_um=band_um[1])
    assert (band.words, band.place_of(level_um)) == (words, place)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"low_um": 200, "high_um": 100}, "more at its high end"),
        ({"low_um": -1.0}, "zero or more"),
        ({"low_um": math.nan}, "zero or more"),
        ({"source": " "}, "who says so"),
        ({"first_year": 1970, "last_year": 1960}, "the earlier year first"),
    ],
)
def test_a_band_that_cannot_be_is_refused(changed: dict, words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(BANDS[0], **changed)
