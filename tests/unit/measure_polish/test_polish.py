"""Polishing: removal per pass, passes left, and the cautions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.polish import (
    Floor,
    PolishSpot,
    Removal,
    left_by_spot,
    passes_left,
    removal_per_pass,
)

BEFORE_UM = (182.0, 175.0, 190.0, 201.0, 168.0)
AFTER_UM = (176.2, 168.1, 184.9, 194.0, 162.4)


def spots(passes_n: int) -> list[PolishSpot]:
    return [
        PolishSpot(area="bonnet", spot=f"s{i}", before_um=b, after_um=a, passes_n=passes_n)
        for i, (b, a) in enumerate(zip(BEFORE_UM, AFTER_UM, strict=True))
    ]


def test_equal_passes_give_the_paired_t_interval() -> None:
    """scipy's paired test is the reference for mean, doubt and degrees of freedom."""
    found = removal_per_pass(spots(2), spot_u_um=0.1)
    book = stats.ttest_rel(BEFORE_UM, AFTER_UM).confidence_interval(0.95)
    half = found.per_pass_um.expanded(coverage=0.95)
    assert 2 * (found.per_pass_um.value - half) == pytest.approx(book.low)
    assert 2 * (found.per_pass_um.value + half) == pytest.approx(book.high)
    assert found.per_pass_um.dof == 4


def test_unequal_passes_meet_the_exact_rate() -> None:
    rows = [
        PolishSpot(area="lid", spot=str(p), before_um=200, after_um=200 - 2.5 * p, passes_n=p)
        for p in (1, 2, 4)
    ]
    found = removal_per_pass(rows, spot_u_um=0.5)
    assert found.per_pass_um.value == pytest.approx(2.5)
    assert found.per_pass_um.u == pytest.approx(0.5 * math.sqrt(2 / 21))


def test_one_spot_speaks_with_the_gauge_doubt() -> None:
    found = removal_per_pass(spots(1)[:1], spot_u_um=1.0)
    assert found.per_pass_um.u == pytest.approx(math.sqrt(2))
    assert math.isinf(found.per_pass_um.dof)


def test_stay_probability_agrees_with_simulation() -> None:
    removal = Removal(per_pass_um=Estimate(value=3.0, u=0.4), scatter_um=1.0, spots_n=8)
    found = passes_left(
        {"s1": Estimate(value=130, u=2.0), "s2": Estimate(value=150, u=2.0)},
        floor=Floor(area="bonnet", film_um=110, basis="measured"),
        removal=removal,
        stay_probability=0.95,
    )
    rng = np.random.default_rng(1)

    def stays(k: int) -> float:
        film = rng.normal(130, 2, 200_000) - k * rng.normal(3, 0.4, 200_000)
        return float(np.mean(film - rng.normal(0, math.sqrt(k), 200_000) > 110))

    assert found.thinnest_spot == "s1"
    assert found.stay_probability == pytest.approx(stays(found.passes_n), abs=0.005)
    assert stays(found.passes_n) >= 0.945
    assert stays(found.passes_n + 1) < 0.95
    assert found.cautions == ()


def test_guess_and_few_spots_are_said() -> None:
    found = passes_left(
        {"s1": Estimate(value=130, u=2.0)},
        floor=Floor(area="bonnet", film_um=110, basis="guess"),
        removal=Removal(per_pass_um=Estimate(value=3.0, u=0.4), scatter_um=1.0, spots_n=3),
        stay_probability=0.9,
    )
    assert "guess" in found.cautions[0]
    assert "3 spots" in found.cautions[1]


def test_below_the_floor_no_pass_is_left() -> None:
    found = passes_left(
        {"s1": Estimate(value=100, u=2.0)},
        floor=Floor(area="bonnet", film_um=110, basis="documented"),
        removal=Removal(per_pass_um=Estimate(value=3.0, u=0.4), scatter_um=1.0, spots_n=8),
        stay_probability=0.9,
    )
    assert found.passes_n == 0
    assert "no pass" in found.cautions[-1]


def test_more_asked_certainty_never_gives_more_passes() -> None:
    removal = Removal(per_pass_um=Estimate(value=2.0, u=0.3, dof=6), scatter_um=0.8, spots_n=7)
    left = [
        passes_left(
            {"s1": Estimate(value=140, u=1.5)},
            floor=Floor(area="lid", film_um=120, basis="measured"),
            removal=removal,
            stay_probability=p,
        ).passes_n
        for p in (0.5, 0.8, 0.9, 0.95, 0.99)
    ]
    assert left == sorted(left, reverse=True)
    assert left[0] == 10  # 20 µm at 2 µm a pass, even odds


def test_wedge_is_sorted_and_keeps_negative() -> None:
    found = left_by_spot(
        {"thick": Estimate(value=150, u=1), "thin": Estimate(value=90, u=1)},
        floor=Floor(area="lid", film_um=100, basis="measured"),
    )
    assert [(s.spot, s.over_floor_um.value) for s in found] == [("thin", -10), ("thick", 50)]


def test_refusals() -> None:
    floor = Floor(area="lid", film_um=100, basis="measured")
    nothing = Removal(per_pass_um=Estimate(value=0.3, u=0.4), scatter_um=1.0, spots_n=8)
    some = Removal(per_pass_um=Estimate(value=3.0, u=0.4), scatter_um=1.0, spots_n=8)
    film = {"s1": Estimate(value=130, u=2.0)}
    with pytest.raises(NotEnoughEvidenceError, match="more than the gauge"):
        passes_left(film, floor=floor, removal=nothing, stay_probability=0.9)
    with pytest.raises(NotEnoughEvidenceError, match="No spot"):
        passes_left({}, floor=floor, removal=some, stay_probability=0.9)
    with pytest.raises(InputError):
        passes_left(film, floor=floor, removal=some, stay_probability=1.0)
    with pytest.raises(InputError, match="each spot once"):
        removal_per_pass(spots(1)[:1] * 2, spot_u_um=1)
    with pytest.raises(NotEnoughEvidenceError):
        removal_per_pass([], spot_u_um=1)
    with pytest.raises(InputError):
        PolishSpot(area="lid", spot="s", before_um=100, after_um=99, passes_n=0)
    with pytest.raises(InputError):
        Floor(area="lid", film_um=0, basis="guess")
