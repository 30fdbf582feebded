"""Wear against age, by simulation of its own two statements."""

from __future__ import annotations

import numpy as np
import pytest

from asfound.base import Estimate, InputError
from asfound.weigh.wear import MOST_LR, WearRate, wear_lr

RATE = WearRate(least=0.01, most=0.04)
YEARS, U_MM = 60.0, 0.05


def _drawn(rng: np.random.Generator, exposure: np.ndarray) -> np.ndarray:
    rates = np.exp(rng.uniform(np.log(RATE.least), np.log(RATE.most), exposure.size))
    return rates * exposure + rng.normal(0, U_MM, exposure.size)


def _lrs(wear: np.ndarray) -> np.ndarray:
    return np.array(
        [wear_lr(wear=Estimate(value=max(w, 0.0), u=U_MM), exposure=YEARS, rate=RATE) for w in wear]
    )


@pytest.mark.source("Turing's rule P(LR > x, alternative true) <= 1/x, NIJ summary of ratios")
def test_turings_rule_for_parts_fitted_later() -> None:
    rng = np.random.default_rng(3)
    lrs = _lrs(_drawn(rng, rng.uniform(0, YEARS, 3_000)))
    for x in (1.5, 2.0, 3.0, 5.0, 10.0):
        share = float((lrs > x).mean())
        assert share <= 1 / x + 4 * np.sqrt(share * (1 - share) / lrs.size)


@pytest.mark.source("The same rule for the inverse: P(1/LR > x, statement true) <= 1/x")
def test_turings_rule_for_parts_fitted_when_built() -> None:
    rng = np.random.default_rng(4)
    lrs = _lrs(_drawn(rng, np.full(3_000, YEARS)))
    assert float(np.median(lrs)) > 1
    for x in (1.5, 2.0, 5.0, 10.0):
        assert float((1 / lrs > x).mean()) <= 1 / x


@pytest.mark.parametrize("scale", [0.001, 25.4])
def test_units_do_not_matter(scale: float) -> None:
    rate = WearRate(least=RATE.least * scale, most=RATE.most * scale)
    for wear in (0.3, 0.9, 1.7, 2.3):
        here = wear_lr(wear=Estimate(value=wear, u=U_MM), exposure=YEARS, rate=RATE)
        there = wear_lr(
            wear=Estimate(value=wear * scale, u=U_MM * scale), exposure=YEARS, rate=rate
        )
        assert there == pytest.approx(here, rel=1e-6)


def test_by_hand_where_the_error_is_small() -> None:
    """w between least·T and most·T: LR = T / (T - w/most) = 60 / (60 - 1.2/0.04) = 2."""
    found = wear_lr(wear=Estimate(value=1.2, u=1e-4), exposure=YEARS, rate=RATE)
    assert found == pytest.approx(2.0, rel=1e-3)


def test_the_tails_are_held() -> None:
    little = Estimate(value=0.05, u=0.01)
    much = Estimate(value=2.4, u=0.001)
    beyond = Estimate(value=9.0, u=0.01)
    assert wear_lr(wear=little, exposure=YEARS, rate=RATE) == 1 / MOST_LR
    assert wear_lr(wear=much, exposure=YEARS, rate=RATE) == MOST_LR
    assert wear_lr(wear=beyond, exposure=YEARS, rate=RATE) == 1.0


@pytest.mark.parametrize(("least", "most"), [(0.0, 1.0), (2.0, 1.0), (1.0, 1.0)])
def test_a_rate_is_a_range(least: float, most: float) -> None:
    with pytest.raises(InputError, match="least_rate"):
        WearRate(least=least, most=most)


def test_what_cannot_be_weighed() -> None:
    with pytest.raises(InputError, match="exposure"):
        wear_lr(wear=Estimate(value=1.0, u=0.1), exposure=0.0, rate=RATE)
    with pytest.raises(InputError, match="u is"):
        wear_lr(wear=Estimate(value=1.0, u=0.0), exposure=1.0, rate=RATE)
