"""The first aim: the earliest finish of one car or the least cost of several, and its bound."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.due import refusal
from asfound.plan.horizon import Outlook
from asfound.plan.model import Model, TooSoonError
from asfound.plan.model_cars import cost_in
from asfound.plan.plan import Progress, part_of
from asfound.plan.search import Effort, run
from asfound.plan.tries import Tries

_SHARE_NARROW = 0.2


PLACED_A_SECOND = 30_000
"""Tasks that greedy plans place in a second of the solver's clock: about as many as in one of a
machine of 2025."""


def first_aim(
    outlook: Outlook, *, seed: int, work_s: float, anew: bool, progress: Progress | None
) -> tuple[Draft, int]:
    """Best plan found, and what no plan goes below in what is to be made small.

    Where the shop is beyond the solver and is planned ``anew``, the time is given to more greedy
    plans; a plan before it would only be left further behind.
    """
    least, value = outlook.least_value, outlook.cars.value
    best = outlook.draft if outlook.lawful else None
    if best is not None and value(best) <= least:
        return best, least
    if best is not None and outlook.beyond_solver:
        tries = Tries(shop=outlook.shop, reach=outlook.reach, fixed=outlook.fixed)
        placed = round(PLACED_A_SECOND * work_s) if anew else 0
        best = tries.bettered(best, seed=seed, placed=placed, enough=least, progress=progress)
        return best, least
    shares = ((False, _SHARE_NARROW), (True, 1 - _SHARE_NARROW))
    begins = 0.0
    for wide, share in shares:
        most = outlook.most if best is None or outlook.cars.several else best.finish
        effort = Effort(work_s=work_s * share, seed=seed, wide=wide, linear=outlook.cars.several)
        its_part = part_of(progress, begins, begins + share)
        found, least, ended = _search(outlook, best, least, most, effort, its_part)
        begins += share
        best = found or best
        if ended and best is None:
            break
        if best is not None and value(best) <= least:
            break
    if best is None:
        raise refusal(outlook, ended=ended)
    return best, least


def _search(
    outlook: Outlook,
    best: Draft | None,
    least: int,
    most: int,
    effort: Effort,
    progress: Progress | None,
) -> tuple[Draft | None, int, bool]:
    try:
        model = Model(
            outlook.shop,
            outlook.reach,
            least=min(outlook.least if outlook.cars.several else least, most),
            most=most,
            fixed=outlook.fixed,
        )
    except TooSoonError:
        return None, least, True
    several = outlook.cars.several
    model.cp.minimize(cost_in(model, outlook.cars) if several else model.finish)
    if best is not None:
        model.hint(best)
    solver, status = run(model.cp, effort, progress=progress)
    found = model.read(solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    if status != cp_model.INFEASIBLE and outlook.whole:
        least = max(least, round(solver.best_objective_bound))
    return found, least, status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
