"""Decisions under doubt: against the lognormal law, and against themselves."""

from __future__ import annotations

import math

import pytest
from scipy.stats import lognorm
from tests.laws.choose.cases import make_coupled

from asfound.base import InputError, NoSolutionError
from asfound.choose import (
    Brief,
    Doubt,
    Option,
    Problem,
    Subject,
    choose,
    forcing_limits,
    robustness,
)


def bonnet(*, limit: float) -> Problem:
    """Repair keeps more and costs 400 in the mean; refinish is free of cost and doubt."""
    rows = (("repair", 0.8, 400.0), ("refinish", 0.1, 0.0))
    return Problem(
        subjects=(Subject(subject="bonnet"),),
        options=tuple(
            Option(subject="bonnet", option=o, treatment=o, kept=k, grade=3, cost=c)
            for o, k, c in rows
        ),
        brief=Brief(cost_max=limit),
    )


@pytest.mark.parametrize("limit", [330.0, 400.0, 520.0])
def test_a_cost_in_doubt_fits_its_limit_as_often_as_the_lognormal_law_says(limit: float) -> None:
    # scipy.stats.lognorm: mean 400 and relative standard deviation 0.25.
    s = math.sqrt(math.log1p(0.25**2))
    expected = lognorm(s=s, scale=400 / math.sqrt(1 + 0.25**2)).cdf(limit)
    doubt = Doubt(work={("bonnet", "repair"): 0.25}, original={})
    found = robustness(bonnet(limit=limit), {"bonnet": "repair"}, doubt=doubt, draws=800, seed=3)
    assert found.possible_n == 800
    share = found.decisions[0].share
    assert abs(share - expected) < 4 * (expected * (1 - expected) / 800) ** 0.5
    assert found.decisions[0].rival == "refinish"


def test_a_piece_whose_fabric_is_never_original_is_given_up_first() -> None:
    problem = Problem(
        subjects=(Subject(subject="door"), Subject(subject="wing")),
        options=tuple(
            Option(subject=s, option=o, treatment=o, kept=k, grade=3, cost=c)
            for s in ("door", "wing")
            for o, k, c in (("repair", 0.9, 100.0), ("refinish", 0.1, 0.0))
        ),
        brief=Brief(cost_max=100),
    )
    doubt = Doubt(work={}, original={"door": 0.0})
    found = robustness(problem, {"door": "repair", "wing": "refinish"}, doubt=doubt, draws=8)
    assert {d.subject: (d.share, d.rival) for d in found.decisions} == {
        "door": (0.0, "refinish"),
        "wing": (0.0, "repair"),
    }


def test_without_doubt_every_decision_holds_and_workers_change_nothing() -> None:
    solved = 0
    for seed in range(8):
        problem = make_coupled(seed, calm=True)
        try:
            choice = choose(problem)
        except NoSolutionError:
            continue
        solved += 1
        calm = robustness(problem, choice.options, doubt=Doubt(work={}, original={}), draws=2)
        assert all(d.is_firm for d in calm.decisions)
        doubt = Doubt(
            work={(o.subject, o.option): 0.3 for o in problem.options},
            original={"piece 1": 0.5},
        )
        one, three = (
            robustness(problem, choice.options, doubt=doubt, draws=6, seed=5, workers=w)
            for w in (1, 3)
        )
        assert one == three
    assert solved


def test_a_share_in_doubt_is_asked_back() -> None:
    with pytest.raises(InputError, match="original"):
        Doubt(work={}, original={"door": 1.2})


def test_the_limit_that_forces_a_decision_is_named_and_others_are_not() -> None:
    # 330 of money cannot pay the repair of 400; nothing else stands in its way.
    problem = bonnet(limit=330)
    assert forcing_limits(problem, choose(problem).options) == {"bonnet": ("cost at most 330",)}
    free = bonnet(limit=500)
    assert forcing_limits(free, choose(free).options) == {}


@pytest.mark.parametrize("asked", [{"draws": 0}, {"workers": 0}])
def test_no_draw_or_worker_is_no_question(asked: dict[str, int]) -> None:
    doubt = Doubt(work={}, original={})
    with pytest.raises(InputError, match="1 or more"):
        robustness(bonnet(limit=400), {"bonnet": "repair"}, doubt=doubt, **asked)
