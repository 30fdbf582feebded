"""Estimate against actual over the workshop, by trade and kind of job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from asfound.plan.past import Factor, Past, fit_past
from asfound.record.convert.past import FinishedJob
from asfound.record.folder import Sheet

_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class CarJob:
    """A finished job with its car.

    ``car`` is the car's name in the record, ``title`` for people.
    """

    car: str
    title: str
    done: FinishedJob

    @property
    def ratio(self) -> float:
        """Actual over estimated hours."""
        return self.done.job.actual_h / self.done.job.estimate_h

    @property
    def estimate_h(self) -> float:
        """Hours estimated, of all its people together."""
        return self.done.job.estimate_h * self.done.people

    @property
    def actual_h(self) -> float:
        """Hours worked, of all its people together."""
        return self.done.job.actual_h * self.done.people


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateLine:
    """Jobs of a trade, or of one kind of it, with what they say of its estimates.

    Parameters
    ----------
    trade, kind : str
        The kind is empty for all jobs of the trade together.
    factor : Factor
    jobs : tuple of CarJob
        The latest first.
    """

    trade: str
    kind: str
    factor: Factor
    jobs: tuple[CarJob, ...]

    @property
    def estimate_h(self) -> float:
        """Hours estimated."""
        return sum(one.estimate_h for one in self.jobs)

    @property
    def actual_h(self) -> float:
        """Hours worked."""
        return sum(one.actual_h for one in self.jobs)

    def beyond(self, costs: Mapping[str, Decimal]) -> Decimal | None:
        """What the hours beyond the estimate cost the workshop; none where its rate is not told."""
        rate = costs.get(self.trade)
        if rate is None:
            return None
        return (rate * Decimal(str(self.actual_h - self.estimate_h))).quantize(_CENT)


def estimate_lines(jobs: Sequence[CarJob]) -> tuple[Past, list[EstimateLine]]:
    """What the jobs say: each trade, the one with most jobs first, followed by its kinds."""
    past = fit_past([one.done.job for one in jobs])
    latest = sorted(jobs, key=lambda one: one.done.ended or date.min, reverse=True)
    trades: dict[str, list[CarJob]] = {}
    for one in latest:
        trades.setdefault(one.done.job.trade, []).append(one)
    ordered = sorted(trades.items(), key=lambda pair: (-len(pair[1]), pair[0]))
    return past, [line for trade, several in ordered for line in _lines(past, trade, several)]


def _lines(past: Past, trade: str, jobs: Sequence[CarJob]) -> Iterator[EstimateLine]:
    yield EstimateLine(trade=trade, kind="", factor=past.factor(trade), jobs=tuple(jobs))
    for kind in sorted({one.done.job.kind for one in jobs if one.done.job.kind}):
        own = tuple(one for one in jobs if one.done.job.kind == kind)
        yield EstimateLine(trade=trade, kind=kind, factor=past.factor(trade, kind), jobs=own)


def lines_sheet(lines: Iterable[EstimateLine], costs: Mapping[str, Decimal] | None) -> Sheet:
    """The lines as a table; ``costs`` adds what the hours beyond the estimate cost."""
    columns = ("trade", "kind", "jobs", "estimate_hours", "actual_hours", "factor")
    spans = ("factor_low", "factor_high", "job_low", "job_high")
    money = ("beyond_estimate_cost",) * (costs is not None)
    return Sheet(
        columns=(*columns, *spans, *money),
        rows=tuple(
            (
                line.trade,
                line.kind,
                str(len(line.jobs)),
                *_plain(line.estimate_h, line.actual_h, line.factor.median),
                *_plain(line.factor.low, line.factor.high),
                *_plain(line.factor.job_low, line.factor.job_high),
                *(str(line.beyond(costs) or "") for _ in money if costs is not None),
            )
            for line in lines
        ),
    )


def jobs_sheet(jobs: Iterable[CarJob]) -> Sheet:
    """The jobs as a table."""
    columns = ("car", "task", "name", "trade", "kind", "people", "worked_by", "ended")
    return Sheet(
        columns=(*columns, "estimate_hours", "actual_hours", "ratio"),
        rows=tuple(
            (
                one.car,
                one.done.task,
                one.done.name,
                one.done.job.trade,
                one.done.job.kind,
                str(one.done.people),
                ";".join(one.done.who),
                one.done.ended.isoformat() if one.done.ended else "",
                *_plain(one.estimate_h, one.actual_h, one.ratio),
            )
            for one in jobs
        ),
    )


def _plain(*values: float) -> tuple[str, ...]:
    return tuple(f"{value:.2f}" for value in values)
