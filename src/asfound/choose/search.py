"""The best choice within limits: most kept, then the lower cost, then fewer hours."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from asfound.choose.arithmetic import Amount, Ledger, exact, open_ledger
from asfound.choose.eligible import eligible, undominated
from asfound.choose.model import Model
from asfound.choose.problem import Problem

Progress = Callable[[float], None]
"""Told how far the work is, 0–1; it may raise to stop the work."""


def build(problem: Problem, *, time_limit_s: float, prune: bool = True) -> Model:
    """The model of a problem with its limits set.

    With ``prune``, options that cannot win are left out from the start.
    """
    ledger = open_ledger(problem)
    allowed = eligible(problem)
    model = Model(
        ledger=ledger,
        allowed=undominated(problem, ledger, allowed) if prune else allowed,
        links=problem.links,
        time_limit_s=time_limit_s,
    )
    for trade, limit in sorted(problem.brief.hours_max.items()):
        if trade in ledger.by_trade:
            amount = ledger.by_trade[trade]
            model.hold(amount, most=amount.most_steps(exact(limit)))
    if problem.brief.cost_max is not None:
        model.hold(ledger.cost, most=ledger.cost.most_steps(exact(problem.brief.cost_max)))
    return model


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The outcome of a search in stages.

    Parameters
    ----------
    options : mapping of str to str, or None
        None if there is no choice, or none was found in time.
    proved : bool
    gap : float
        Share of the car that might still be gained, 0–1.
    """

    options: Mapping[str, str] | None
    proved: bool
    gap: float = 0.0


def most_kept(
    model: Model, start: Mapping[str, str] | None = None, *, then_hours: bool = True
) -> Found:
    """The choice that keeps most within the model's limits; ties: lower cost, fewer hours.

    The limits of the model are the same afterwards as before.
    """
    ledger = model.ledger
    model.aim((ledger.kept, -1))
    run = model.run(start)
    if run.options is None:
        return Found(options=None, proved=run.ended)
    if not run.ended:
        return Found(options=run.options, proved=False, gap=_gap(ledger, run.options, run.bound))
    best, proved = run.options, True
    held = model.limits()
    for earlier, later in _stages(ledger, then_hours=then_hours):
        sign = 1 if earlier is ledger.kept else -1
        steps = ledger.total(earlier, best)
        model.hold(earlier, **({"least": steps} if sign > 0 else {"most": steps}))
        model.aim((later, 1))
        run = model.run(best)
        proved = proved and run.ended
        if run.options is not None:
            best = run.options
    model.restore(held)
    return Found(options=best, proved=proved)


def _stages(ledger: Ledger, *, then_hours: bool) -> tuple[tuple[Amount, Amount], ...]:
    stages = ((ledger.kept, ledger.cost), (ledger.cost, ledger.hours))
    return stages if then_hours else stages[:1]


def _gap(ledger: Ledger, options: Mapping[str, str], bound: float) -> float:
    if not math.isfinite(bound):
        return 1.0
    missing = -bound - ledger.total(ledger.kept, options)
    return min(1.0, max(0.0, missing * float(ledger.kept.unit / ledger.weight)))
