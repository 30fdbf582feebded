"""Learning from finished work: against a printed example, and the normal posterior in full."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from asfound.base import InputError
from asfound.plan import Hours, Job, Task, fit_past
from asfound.plan.past import JOB_LOG, PRIOR_LOG, moment_between, pooled
from asfound.plan.three_point import draw_hours

SCHOOLS = np.array([28.0, 8, -3, 7, -1, 1, 18, 12])
ERRORS = np.array([15.0, 10, 16, 11, 9, 11, 10, 18])


def test_eight_schools_pool_to_the_printed_mean() -> None:
    """Gelman et al., Bayesian Data Analysis, section 5.5 (from memory): 7.7 with error 4.1."""
    found = pooled(SCHOOLS, ERRORS**2, 0.0, None)
    assert found.mean == pytest.approx(7.7, abs=0.05)
    assert found.variance**0.5 == pytest.approx(4.1, abs=0.05)
    assert moment_between([(SCHOOLS, ERRORS**2)]) == 0.0


def test_one_job_counts_as_much_as_the_doubt_before_and_after_it_allow() -> None:
    """Normal mean with known variance: share = prior / (prior + variance of the job)."""
    found = fit_past([Job(trade="trimmer", estimate_h=2, actual_h=4)])
    share = PRIOR_LOG**2 / (PRIOR_LOG**2 + JOB_LOG**2)
    assert np.log(found.factor("trimmer").median) == pytest.approx(share * np.log(2))
    assert found.factor("trimmer").doubt_log ** 2 == pytest.approx(share * JOB_LOG**2)


def _jobs() -> list[Job]:
    rng, jobs = np.random.default_rng(4), []
    for trade, shift in (("trimmer", 0.5), ("painter", -0.3), ("fabricator", 0.0)):
        for kind, more, count in (("off", 0.3, 6), ("renew", -0.3, 2), ("patch", 0.1, 1)):
            for noise in rng.normal(0, 0.15, count):
                actual = 5 * np.exp(shift + more + noise)
                jobs.append(Job(trade=trade, kind=kind, estimate_h=5, actual_h=actual))
    return jobs


def test_levels_are_those_of_the_joint_normal_posterior() -> None:
    """Reference: one linear model of shop, trades and kinds, its posterior by matrix inverse."""
    jobs = _jobs()
    past = fit_past(jobs)
    assert past.of_trades > 0
    assert past.of_kinds > 0
    trades = sorted({j.trade for j in jobs})
    kinds = sorted({(j.trade, j.kind) for j in jobs})
    design = np.array(
        [
            [1.0, *(j.trade == t for t in trades), *((j.trade, j.kind) == k for k in kinds)]
            for j in jobs
        ]
    )
    prior = [PRIOR_LOG**2] + [past.of_trades] * len(trades) + [past.of_kinds] * len(kinds)
    covariance = np.linalg.inv(design.T @ design / past.spread + np.diag(1 / np.array(prior)))
    mean = covariance @ design.T @ np.array([j.log_ratio for j in jobs]) / past.spread
    for at, (trade, kind) in enumerate(kinds):
        pick = np.zeros(len(mean))
        pick[[0, 1 + trades.index(trade), 1 + len(trades) + at]] = 1
        factor = past.factor(trade, kind)
        assert np.log(factor.median) == pytest.approx(pick @ mean)
        assert factor.doubt_log**2 == pytest.approx(pick @ covariance @ pick)


def test_an_untold_kind_or_trade_is_wider_and_no_past_says_one() -> None:
    past = fit_past(_jobs())
    trade, unknown = past.factor("trimmer"), past.factor("trimmer", "weld")
    assert unknown.median == trade.median
    assert unknown.doubt_log > trade.doubt_log
    assert (past.factor("plater").jobs_of_trade, trade.jobs_of_trade) == (0, 9)
    assert (past.shared, past.shared_is_assumed) == (0.3, True)
    none = fit_past([]).factor("trimmer", "off")
    assert (none.median, none.low, none.high, none.jobs_of_trade) == (1, 1, 1, 0)


def test_many_jobs_of_many_trades_tell_their_correlation() -> None:
    rng = np.random.default_rng(1)
    jobs = [
        Job(trade=f"t{i}", estimate_h=1, actual_h=np.exp(shift + noise))
        for i, shift in enumerate(rng.normal(0, 0.3, 60))
        for noise in rng.normal(0, 0.3, 20)
    ]
    past = fit_past(jobs)
    assert not past.shared_is_assumed
    assert past.shared == pytest.approx(0.5, abs=0.12)


def test_a_factors_doubt_is_drawn_once_for_a_trade() -> None:
    """Log of a lognormal factor: its standard deviation, and correlation 1 within the trade."""
    one = Task(task="a", hours=Hours.sure(4), trade="trimmer", doubt_log=0.2)
    two = replace(one, task="b")
    drawn = np.log(draw_hours([one, two], draws=20_000, rng=np.random.default_rng(2)))
    assert drawn[0].std() == pytest.approx(0.2, rel=0.03)
    assert np.median(drawn[0]) == pytest.approx(np.log(4), abs=0.01)
    assert np.corrcoef(drawn)[0, 1] == pytest.approx(1)


@pytest.mark.parametrize("hours", [0.0, -1.0, float("nan")])
def test_a_job_without_hours_is_refused(hours: float) -> None:
    with pytest.raises(InputError):
        Job(trade="trimmer", estimate_h=1, actual_h=hours)
