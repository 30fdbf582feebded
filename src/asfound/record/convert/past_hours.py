"""Hours of an option as the workshop's own finished work says that they come out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from asfound.plan.past import Factor, Past
from asfound.record.convert.trades import HOURS
from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet

SOURCE = "past work"
"""The source of hours that were taken over from the past."""
_QUARTERS = 4

Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PastHours:
    """Hours of one trade of an option, as estimated and as finished work says.

    Parameters
    ----------
    trade : str
    estimate_h : float
        From the table [h].
    factor : Factor
        Actual over estimated hours of the trade's jobs of the same kind, drawn to its other jobs
        where these are few.
    """

    trade: str
    estimate_h: float
    factor: Factor

    @property
    def hours(self) -> float:
        """Estimate times the median of the factor, to a quarter of an hour; never nothing."""
        return max(round(self.estimate_h * self.factor.median * _QUARTERS), 1) / _QUARTERS

    @property
    def low(self) -> float:
        """Lower end of the 90 % interval [h], for the doubt of the factor."""
        return self.estimate_h * self.factor.low

    @property
    def high(self) -> float:
        """Upper end of the 90 % interval [h]."""
        return self.estimate_h * self.factor.high

    @property
    def rests_on(self) -> str:
        """On how many finished jobs it rests, in words."""
        jobs, kind = self.factor.jobs_of_trade, self.factor.jobs_of_kind
        count = f"{jobs} job{'' if jobs == 1 else 's'} of the {self.trade}"
        return f"{count}, {kind or 'none'} of this kind"


def past_hours(cells: Cells, past: Past) -> tuple[PastHours, ...]:
    """What the past says of each trade of an option; none of a trade that finished nothing.

    Parameters
    ----------
    cells : dict of str to str
        A row of ``options`` whose hours are estimates.
    past : Past
    """
    return tuple(
        PastHours(trade=trade, estimate_h=estimate_h, factor=factor)
        for trade, estimate_h in _busy(cells)
        if (factor := past.factor(trade, cells.get("treatment", ""))).jobs_of_trade
    )


def with_past_hours(cells: Cells, told: tuple[PastHours, ...]) -> dict[str, str]:
    """The same row with the hours of the past, their source, doubt and what was learned.

    Notes
    -----
    The doubt is that of one further job, as a standard deviation of the logarithm, of the trade
    where it is widest. ``learned`` keeps the factors, so that the plan does not multiply by them
    once more and the estimate can be told from what was learned.
    """
    hours = {HOURS + one.trade: _written(one.hours) for one in told}
    doubt = min(2.0, max(one.factor.job_log for one in told))
    learned = "; ".join(f"{one.trade} {one.hours / one.estimate_h:.4g}" for one in told)
    return {**cells, **hours, "source": SOURCE, "doubt": f"{doubt:.2g}", "learned": learned}


def learned_of(row: Row) -> dict[str, float]:
    """Factors that are in the hours of an option already, by trade; checked when it was read."""
    return dict(_factors(row.text("learned")))


def without_changed(before: Cells, after: Cells) -> str:
    """What stays learned of an option whose row a person changed: trades whose hours stand."""
    stays = (
        f"{trade} {factor:.4g}"
        for trade, factor in _factors(before.get("learned", ""))
        if before.get(HOURS + trade, "") == after.get(HOURS + trade, "")
    )
    return "; ".join(stays)


def learned_faults(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Cells of ``learned`` that are no factors of trades."""
    for row in sheets.get("options", Sheet(columns=())):
        try:
            bad = not all(math.isfinite(f) and f > 0 for _, f in _factors(row.text("learned")))
        except ValueError:
            bad = True
        if bad:
            yield Fault(
                file="options.csv",
                row=row.number_in_file,
                column="learned",
                value=row.text("learned"),
                rule="it holds trades with factors above zero, such as “painter 1.2; trimmer 0.9”",
                remedy="Correct the cell, or empty it: the hours are then taken as estimates.",
            )


def _factors(text: str) -> Iterator[tuple[str, float]]:
    for part in text.split(";"):
        if part.strip():
            trade, _, factor = part.strip().rpartition(" ")
            yield trade.strip(), float(factor)


def _busy(cells: Cells) -> Iterator[tuple[str, float]]:
    for column, cell in cells.items():
        if column.startswith(HOURS) and cell and float(cell) > 0:
            yield column.removeprefix(HOURS), float(cell)


def _written(value: float) -> str:
    return repr(value).removesuffix(".0")
