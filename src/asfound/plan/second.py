"""Among plans that finish as early: the nearest to the plan so far, or the cars by priority."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.horizon import Outlook
from asfound.plan.model import Model, TooSoonError
from asfound.plan.plan import Plan, Progress
from asfound.plan.search import Effort, run

_SCALE = 100
"""Priorities to whole numbers."""


def second_aim(
    outlook: Outlook,
    draft: Draft,
    *,
    earlier: Plan | None,
    seed: int,
    work_s: float,
    progress: Progress | None,
) -> Draft:
    """The draft bettered in the second aim without a later finish; as it was if there is none.

    Notes
    -----
    A new plan minimises Σ |start − start so far| + a day for each crew that loses a task; several
    cars minimise Σ priority · finish of the car.
    """
    cars = {task.car for task in outlook.shop.problem.tasks}
    if not draft.start or outlook.beyond_solver or (earlier is None and len(cars) < 2):
        return draft
    try:
        model = Model(outlook.shop, outlook.reach, least=0, most=draft.finish, fixed=outlook.fixed)
    except TooSoonError:
        return draft
    aim = _moves(model, earlier) if earlier is not None else _car_finishes(model, sorted(cars))
    model.cp.minimize(aim)
    model.hint(draft)
    wide = len(outlook.shop.problem.tasks) > 100
    effort = Effort(work_s=work_s, seed=seed, wide=wide, linear=True)
    solver, status = run(model.cp, effort, progress=progress)
    return model.read(solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else draft


def _car_finishes(model: Model, cars: list[str]) -> cp_model.LinearExprT:
    terms = []
    for car in cars:
        finish = model.cp.new_int_var(0, model.most, "")
        for task in model.shop.problem.tasks:
            if task.car == car:
                model.cp.add(finish >= model.teams[task.task].end)
        terms.append(round(_SCALE * model.shop.problem.priority.get(car, 1.0)) * finish)
    return sum(terms)


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
