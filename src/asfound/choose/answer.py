"""What comes out: a choice with its sums."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from asfound.choose.arithmetic import Ledger
from asfound.choose.problem import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One option for every subject of the car.

    Parameters
    ----------
    options : mapping of str to str
        The chosen option by subject.
    kept : float
        Share of the car's original fabric that is kept, 0–1: Σ weight·kept / Σ weight.
    cost : float
        In the car's currency, after what shared work saves.
    hours : mapping of str to float
        Hours by trade, after what shared work saves.
    lowest_grade : float
        The lowest finish among the chosen options, 0–5.
    proved : bool
        True if no other choice within the brief keeps more, nor as much for less money, nor as
        much for the same money in fewer hours.
    gap : float
        How much more might be kept at most, as a share of the car, 0–1; 0 when proved.
    """

    options: Mapping[str, str]
    kept: float
    cost: float
    hours: Mapping[str, float]
    lowest_grade: float
    proved: bool
    gap: float


def sum_up(
    problem: Problem, ledger: Ledger, options: Mapping[str, str], *, proved: bool, gap: float
) -> Choice:
    """The choice with its sums, each rounded once from the exact value."""
    grades = {(o.subject, o.option): o.grade for o in problem.options}
    return Choice(
        options=dict(sorted(options.items())),
        kept=kept_share(ledger, options),
        cost=cost_of(ledger, options),
        hours={
            trade: float(amount.value(ledger.total(amount, options)))
            for trade, amount in ledger.by_trade.items()
        },
        lowest_grade=min(grades[key] for key in options.items()),
        proved=proved,
        gap=gap,
    )


def kept_share(ledger: Ledger, options: Mapping[str, str]) -> float:
    """Share of the car's original fabric that a choice keeps, 0–1."""
    return float(ledger.kept.value(ledger.total(ledger.kept, options)) / ledger.weight)


def cost_of(ledger: Ledger, options: Mapping[str, str]) -> float:
    """Money that a choice costs, after what shared work saves."""
    return float(ledger.cost.value(ledger.total(ledger.cost, options)))
