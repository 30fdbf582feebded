"""Among plans that are as good: the nearest to the plan so far."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.horizon import Outlook
from asfound.plan.model import Model, TooSoonError
from asfound.plan.model_cars import cost_in
from asfound.plan.plan import Plan, Progress
from asfound.plan.search import Effort, run


def second_aim(
    outlook: Outlook,
    draft: Draft,
    *,
    earlier: Plan | None,
    seed: int,
    work_s: float,
    progress: Progress | None,
) -> Draft:
    """The draft moved nearer to the plan so far without getting worse; as it was without one.

    Notes
    -----
    A new plan minimises Σ |start − start so far| + a day for each crew that loses a task.
    """
    if not draft.start or outlook.beyond_solver or earlier is None:
        return draft
    several = outlook.cars.several
    most = max(outlook.most, draft.finish) if several else draft.finish
    try:
        model = Model(outlook.shop, outlook.reach, least=0, most=most, fixed=outlook.fixed)
    except TooSoonError:
        return draft
    if several:
        model.cp.add(cost_in(model, outlook.cars) <= outlook.cars.cost(draft.end))
    model.cp.minimize(_moves(model, earlier))
    model.hint(draft)
    wide = len(outlook.shop.problem.tasks) > 100
    effort = Effort(work_s=work_s, seed=seed, wide=wide, linear=True)
    solver, status = run(model.cp, effort, progress=progress)
    return model.read(solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else draft


def _moves(model: Model, earlier: Plan) -> cp_model.LinearExprT:
    shop = model.shop
    crew_of = {p.person: i for i, crew in enumerate(shop.crews) for p in crew.people}
    day = shop.total // shop.days or 1
    terms: list[cp_model.LinearExprT] = []
    for placed in earlier.placed:
        if placed.task not in model.start or placed.task in model.fixed.start:
            continue
        start = model.start[placed.task]
        was = min(shop.tick_of(placed.start_min), model.most)
        moved = model.cp.new_int_var(0, model.most, "")
        model.cp.add(moved >= start - was)
        model.cp.add(moved >= was - start)
        terms.append(moved)
        before = {crew_of[person] for person in placed.people if person in crew_of}
        present = model.teams[placed.task].present
        terms += [day * (1 - present[crew]) for crew in before if crew in present]
    return sum(terms)
