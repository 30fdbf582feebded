"""The plan of several cars in the shape of the contract, with each task under its car."""

from __future__ import annotations

from typing import Any

from asfound.plan import Plan, Promise
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.plan import CHANCES, local, plan_json, promised


def cars_json(
    question: ShopQuestion, plan: Plan, promise: Promise, critical: tuple[str, ...]
) -> dict[str, Any]:
    """Plan of several cars as ``asfound plan --json`` prints it.

    As for one car; each task stands with its ``car``, and ``cars`` has the finish and the promise
    of each.
    """
    told = plan_json(question, plan, promise, critical)
    named = question.problem.named

    def under_car(task: str) -> dict[str, Any]:
        return {"car": named[task].car, "task": own_name(named[task])}

    return {
        **told,
        "tasks": [{**row, **under_car(row["task"])} for row in told["tasks"]],
        "critical": [under_car(task) for task in told["critical"]],
        "late_because": [{**row, **under_car(row["task"])} for row in told["late_because"]],
        "cars": [
            {
                "car": car,
                "priority": question.problem.priority.get(car, 1.0),
                "finish": local(question.at(plan.cars[car])),
                "promise": {
                    name: promised(question, promise.of(car) if promise.cars else promise, chance)
                    for name, chance in CHANCES.items()
                },
            }
            for car in question.problem.priority
        ],
    }
