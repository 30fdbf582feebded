"""What the workshop's own finished jobs say of its estimates: actual over estimated hours."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from asfound.base import InputError
from asfound.plan.three_point import SHARED_WITHIN_TRADE

PRIOR_LOG = 0.25
"""Doubt of the whole workshop's log factor before any job is seen: a guess, no source."""
JOB_LOG, JOB_LOG_WEIGHT = 0.3, 4
"""Spread of one job's log ratio before any is seen, and the jobs that the guess is worth: no
source. It keeps a spread told by two or three jobs from being taken for certain."""
LEAST_TRADES, LEAST_JOBS = 5, 5
"""Trades, and jobs of each, below which the correlation within a trade is not estimated."""
_Z90 = 1.6448536269514722
_Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A finished job.

    Parameters
    ----------
    trade, kind : str
        Kind of job within the trade; empty where none is told.
    estimate_h, actual_h : float
        Above zero [h].
    """

    trade: str
    kind: str = ""
    estimate_h: float
    actual_h: float

    def __post_init__(self) -> None:
        for name in ("estimate_h", "actual_h"):
            got = getattr(self, name)
            if not (math.isfinite(got) and got > 0):
                raise InputError(field=name, got=got, allowed="finite and above zero")

    @property
    def log_ratio(self) -> float:
        """Logarithm of actual over estimated hours."""
        return math.log(self.actual_h / self.estimate_h)


@dataclass(frozen=True, slots=True, kw_only=True)
class Normal:
    """Mean and variance of a log factor."""

    mean: float
    variance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """By what the estimates of a trade or kind are to be multiplied.

    Parameters
    ----------
    median : float
        1 where there is no past at all.
    doubt_log : float
        Standard deviation of its logarithm.
    job_log : float
        Standard deviation of the log ratio of one further job; the factor's doubt is in it.
    jobs_of_trade, jobs_of_kind : int
        On how many jobs it rests.
    """

    median: float = 1.0
    doubt_log: float = 0.0
    job_log: float = 0.0
    jobs_of_trade: int = 0
    jobs_of_kind: int = 0

    @property
    def low(self) -> float:
        """Lower end of the 90 % interval of the factor."""
        return self.median * math.exp(-_Z90 * self.doubt_log)

    @property
    def high(self) -> float:
        """Upper end of the 90 % interval of the factor."""
        return self.median * math.exp(_Z90 * self.doubt_log)

    @property
    def job_low(self) -> float:
        """Lower end of the 90 % interval of one further job's ratio."""
        return self.median * math.exp(-_Z90 * self.job_log)

    @property
    def job_high(self) -> float:
        """Upper end of the 90 % interval of one further job's ratio."""
        return self.median * math.exp(_Z90 * self.job_log)


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """What the finished jobs come to.

    Parameters
    ----------
    jobs : tuple of Job
    spread, of_trades, of_kinds : float
        Variances of the log ratio: of jobs of one kind, between trades, between kinds of a trade.
    shared : float
        Correlation of two jobs of one trade.
    shared_is_assumed : bool
        Whether too few jobs tell it.
    """

    jobs: tuple[Job, ...] = ()
    spread: float = 0.0
    of_trades: float = 0.0
    of_kinds: float = 0.0
    shared: float = SHARED_WITHIN_TRADE
    shared_is_assumed: bool = True
    _shop: Normal | None = None
    _trades: Mapping[str, Normal] = field(default_factory=dict)
    _kinds: Mapping[tuple[str, str], Normal] = field(default_factory=dict)

    def factor(self, trade: str, kind: str = "") -> Factor:
        """Factor of a kind of a trade; of the trade where the kind was never done, and so on up."""
        if self._shop is None:
            return Factor()
        of_trade = self._trades.get(trade)
        shop = self._shop
        above = of_trade or Normal(mean=shop.mean, variance=shop.variance + self.of_trades)
        wider = Normal(mean=above.mean, variance=above.variance + self.of_kinds * bool(kind))
        found = self._kinds.get((trade, kind), wider) if kind else above
        own = [job for job in self.jobs if job.trade == trade]
        return Factor(
            median=math.exp(found.mean),
            doubt_log=math.sqrt(found.variance),
            job_log=math.sqrt(found.variance + self.spread + self.of_kinds * (not kind)),
            jobs_of_trade=len(own),
            jobs_of_kind=sum(job.kind == kind for job in own),
        )


def pooled(means: _Floats, variances: _Floats, between: float, prior: Normal | None) -> Normal:
    """Common mean of groups whose own means are known with some variance.

    Notes
    -----
    Weights 1/(variance + between); a prior counts as one group more, without ``between``.
    """
    weight = 1 / (variances + between)
    precision = float(weight.sum())
    total = float(weight @ means)
    if prior is not None:
        precision += 1 / prior.variance
        total += prior.mean / prior.variance
    return Normal(mean=total / precision, variance=1 / precision)


def shrunk(own: Normal, above: Normal, between: float) -> Normal:
    """Group's mean drawn towards the mean above it, whose doubt is carried along."""
    if between <= 0:
        return above
    share = between / (between + own.variance)
    return Normal(
        mean=share * own.mean + (1 - share) * above.mean,
        variance=share * own.variance + (1 - share) ** 2 * above.variance,
    )


def moment_between(families: Sequence[tuple[_Floats, _Floats]]) -> float:
    """Variance between the groups within families, by moments; zero or more.

    Parameters
    ----------
    families : sequence of (means, variances)

    References
    ----------
    DerSimonian, R. and Laird, N. (1986), Meta-analysis in clinical trials, Controlled Clinical
    Trials 7(3), 177–188; here the statistic Q and its expectation are summed over the families.
    """
    q = freedom = scale = 0.0
    for means, variances in families:
        weight = 1 / variances
        q += float(weight @ (means - weight @ means / weight.sum()) ** 2)
        freedom += len(means) - 1
        scale += float(weight.sum() - (weight**2).sum() / weight.sum())
    return max(0.0, (q - freedom) / scale) if scale > 0 else 0.0


def fit_past(jobs: Sequence[Job]) -> Past:
    """Fit the ratios of finished jobs.

    Notes
    -----
    log(actual/estimate) = shop + trade + kind + job, each normal. The variances are found by
    moments, that of one job drawn towards ``JOB_LOG`` (scaled inverse χ² with ``JOB_LOG_WEIGHT``
    degrees of freedom); given them the three levels are the closed normal–normal posterior, so
    that what rests on few jobs is drawn to what stands above it. A variance found as zero pools
    its level wholly. The doubt of the variances themselves is left out.

    References
    ----------
    Gelman, A. et al., Bayesian Data Analysis, 3rd ed. (2013), sections 2.6 and 5.4 (from memory).
    """
    if not jobs:
        return Past()
    cells: dict[tuple[str, str], list[float]] = {}
    for job in jobs:
        cells.setdefault((job.trade, job.kind), []).append(job.log_ratio)
    spread = _spread(list(cells.values()))
    own = {
        key: Normal(mean=float(np.mean(logs)), variance=spread / len(logs))
        for key, logs in cells.items()
    }
    trades = {trade: [key for key in own if key[0] == trade] for trade, _ in own}
    of_kinds = moment_between([_arrays([own[key] for key in keys]) for keys in trades.values()])
    means = {
        trade: pooled(*_arrays([own[key] for key in keys]), of_kinds, None)
        for trade, keys in trades.items()
    }
    every = _arrays(list(means.values()))
    of_trades = moment_between([every])
    shop = pooled(*every, of_trades, Normal(mean=0.0, variance=PRIOR_LOG**2))
    told = {trade: shrunk(mean, shop, of_trades) for trade, mean in means.items()}
    counts = [sum(len(cells[key]) for key in keys) for keys in trades.values()]
    assumed = sum(count >= LEAST_JOBS for count in counts) < LEAST_TRADES
    return Past(
        jobs=tuple(jobs),
        spread=spread,
        of_trades=of_trades,
        of_kinds=of_kinds,
        shared=SHARED_WITHIN_TRADE if assumed else of_trades / (of_trades + of_kinds + spread),
        shared_is_assumed=assumed,
        _shop=shop,
        _trades=told,
        _kinds={key: shrunk(own[key], told[key[0]], of_kinds) for key in own},
    )


def _spread(groups: Sequence[Sequence[float]]) -> float:
    squares = sum(float(np.var(logs)) * len(logs) for logs in groups)
    freedom = sum(len(logs) - 1 for logs in groups)
    return (JOB_LOG_WEIGHT * JOB_LOG**2 + squares) / (JOB_LOG_WEIGHT + freedom)


def _arrays(several: Sequence[Normal]) -> tuple[_Floats, _Floats]:
    return np.array([n.mean for n in several]), np.array([n.variance for n in several])
