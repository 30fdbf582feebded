"""What other panels say before a panel is read."""

import numpy as np
import pytest

from asfound.measure.film import priors
from asfound.measure.film.car import CarLevel
from asfound.measure.film.car_level import LevelCurves
from asfound.measure.film.touched import later_shares

GRID_UM = np.geomspace(50.0, 400.0, 200)
LEVEL = CarLevel((150.0,), (5.0,), (1.0,))


def shares(log_ratios: list[float]) -> list[float]:
    """Priors of panels whose evidence in all exceeds that with no later work by so much."""
    plain = np.zeros((len(log_ratios), len(GRID_UM)))
    curves = LevelCurves(GRID_UM, plain + np.array(log_ratios)[:, None], plain)
    return later_shares(curves, [LEVEL] * len(log_ratios))


@pytest.mark.parametrize("share", [0.08, 0.27, 0.48])
def test_odds_are_multiplied_so_that_a_panel_has_the_share_for_its_prior(share: float) -> None:
    times = priors.odds_times(share)
    weight = np.array([way.weight for way in priors.LEVEL_WAYS])
    weight = weight * np.where(priors.plain_ways(), 1.0, times)
    plain = weight[priors.plain_ways()].sum() / weight.sum()
    assert 1 - plain * priors.patch_odds(times)[0] == pytest.approx(share)


def test_the_usual_prior_leaves_the_odds_alone() -> None:
    assert priors.odds_times(priors.later_odds()) == pytest.approx(1.0)
    assert np.mean(priors.LATER_SHARES) == pytest.approx(priors.later_odds(), abs=0.005)


def test_worked_on_in_one_place_is_likelier_worked_on_in_another() -> None:
    untouched, touched = shares([0.0] * 8)[0], shares([0.0] + [20.0] * 7)[0]
    assert untouched < priors.later_odds() < touched
    assert touched <= max(priors.LATER_SHARES)


def test_a_panel_does_not_speak_for_itself() -> None:
    assert shares([25.0, 0.0, 3.0])[0] == pytest.approx(shares([0.0, 0.0, 3.0])[0])


def test_the_shares_follow_bayes() -> None:
    """One other panel, surely touched: the mean of θ² over the mean of θ."""
    theta = np.array(priors.LATER_SHARES)
    assert shares([0.0, 30.0])[0] == pytest.approx((theta**2).sum() / theta.sum(), rel=1e-6)
