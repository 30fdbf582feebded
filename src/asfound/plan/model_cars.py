"""The cost of several cars as the solver reckons it."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.cars import LATE, Cars
from asfound.plan.model import Model


def cost_in(model: Model, cars: Cars) -> cp_model.LinearExprT:
    """Σ wᵢ (Cᵢ + 10 Tᵢ) over the cars, as :class:`Cars` defines it."""
    terms: list[cp_model.LinearExprT] = []
    alone = cars.alone(model.reach)
    for car, weight in cars.weights.items():
        finish = model.cp.new_int_var(min(alone[car], model.most), model.most, f"finish of {car}")
        for task in model.shop.problem.tasks:
            if task.car == car:
                tail = model.reach[task.task].tail
                model.cp.add(finish >= model.teams[task.task].end + tail)
        terms.append(weight * finish)
        if cars.promised.get(car, model.most) < model.most:
            late = model.cp.new_int_var(0, model.most, f"lateness of {car}")
            model.cp.add(late >= finish - cars.promised[car])
            terms.append(LATE * weight * late)
    return sum(terms)
