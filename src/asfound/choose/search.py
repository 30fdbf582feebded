"""The best choice within limits: most kept, then the lower cost, then fewer hours."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from asfound.choose.arithmetic import open_ledger
from asfound.choose.blend import Blend, blends
from asfound.choose.eligible import eligible, undominated
from asfound.choose.exactly import exact
from asfound.choose.model import Model
from asfound.choose.problem import Problem

Progress = Callable[[float], None]
"""Told how far the work is, 0–1; it may raise to stop the work."""


def build(
    problem: Problem,
    *,
    time_limit_s: float,
    spare: Mapping[str, str] | None = None,
    whole: Collection[str] = (),
) -> Model:
    """The model of a problem with its limits set, without options that cannot win.

    With ``spare``, a choice, no option is left out because of one in it, so that any one option
    of that choice can be forbidden; of the subjects ``whole`` none is left out at all.
    """
    ledger = open_ledger(problem)
    allowed, chosen = eligible(problem), spare or {}
    others = {s: tuple(o for o in options if o != chosen.get(s)) for s, options in allowed.items()}
    kept = undominated(problem, ledger, others)
    kept |= {subject: allowed[subject] for subject in whole}
    model = Model(
        ledger=ledger,
        allowed={s: tuple(sorted({*kept[s], *_own(chosen, s)})) for s in kept},
        links=problem.links,
        seams=problem.seams,
        time_limit_s=time_limit_s,
    )
    for trade, limit in sorted(problem.brief.hours_max.items()):
        if trade in ledger.by_trade:
            amount = ledger.by_trade[trade]
            model.hold(amount, most=amount.most_steps(exact(limit)))
    if problem.brief.cost_max is not None:
        model.hold(ledger.cost, most=ledger.cost.most_steps(exact(problem.brief.cost_max)))
    return model


def _own(chosen: Mapping[str, str], subject: str) -> tuple[str, ...]:
    return (chosen[subject],) if subject in chosen else ()


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
    best = start
    for blend in blends(model, then_hours=then_hours):
        model.aim(*blend.goals(model.ledger))
        run = model.run(best)
        if run.options is None:
            return Found(options=None, proved=run.ended)
        best = run.options
        if not run.ended:
            return Found(options=best, proved=False, gap=_gap(model, blend, best, run.bound))
        proved = blend.proved(model, best)
        if proved >= 2:
            break
    return _rest(model, best or {}, proved, then_hours=then_hours)


def _rest(model: Model, best: Mapping[str, str], proved: int, *, then_hours: bool) -> Found:
    """The aims that are not proved yet, each by a search in which the earlier ones are held."""
    ledger, held, ended = model.ledger, model.limits(), True
    aims = (ledger.kept, ledger.cost, ledger.hours)[: 3 if then_hours else 2]
    for place in range(proved, len(aims)):
        model.restore(held)
        for amount in aims[:place]:
            steps = ledger.total(amount, best)
            if amount is ledger.kept:
                model.hold(amount, least=steps)
            else:
                model.hold(amount, most=steps)
        model.aim((aims[place], 1))
        run = model.run(best)
        ended = ended and run.ended
        if run.options is not None:
            best = run.options
    model.restore(held)
    return Found(options=best, proved=ended)


def _gap(model: Model, blend: Blend, options: Mapping[str, str], bound: float) -> float:
    ledger = model.ledger
    missing = blend.most_kept(model, bound) - ledger.total(ledger.kept, options)
    return min(1.0, max(0.0, missing * float(ledger.kept.unit / ledger.weight)))
