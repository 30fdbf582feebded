"""The first aim: the earliest finish, and the tick before which none can be."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.due import refusal
from asfound.plan.horizon import Outlook
from asfound.plan.model import Model, TooSoonError
from asfound.plan.plan import Progress
from asfound.plan.search import Effort, run

_SHARE_NARROW = 0.4


def first_aim(
    outlook: Outlook, *, seed: int, work_s: float, progress: Progress | None
) -> tuple[Draft, int]:
    """Earliest finish found, and the tick before which none can be."""
    least = outlook.least
    best = outlook.draft if outlook.lawful else None
    if best is not None and (best.finish <= least or outlook.beyond_solver):
        return best, least
    shares = ((False, _SHARE_NARROW), (True, 1 - _SHARE_NARROW))
    for wide, share in shares:
        most = best.finish if best is not None else outlook.most
        effort = Effort(work_s=work_s * share, seed=seed, wide=wide, linear=False)
        found, least, ended = _search(outlook, best, least, most, effort, progress)
        best = found or best
        if ended and best is None:
            break
        if best is not None and best.finish <= least:
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
        model = Model(outlook.shop, outlook.reach, least=least, most=most, fixed=outlook.fixed)
    except TooSoonError:
        return None, least, True
    model.cp.minimize(model.finish)
    if best is not None:
        model.hint(best)
    solver, status = run(model.cp, effort, progress=progress)
    found = model.read(solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    if status != cp_model.INFEASIBLE:
        least = max(least, round(solver.best_objective_bound))
    return found, least, status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
