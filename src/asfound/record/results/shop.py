"""The plan of several cars in the shape of the contract, with each task under its car."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from asfound.plan import Plan, Promise, governors
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.estimate import number
from asfound.record.results.plan import CHANCES, local, plan_json, promised, promised_json

_Named = Callable[[str], dict[str, Any]]


def cars_json(
    question: ShopQuestion, plan: Plan, promise: Promise, critical: tuple[str, ...]
) -> dict[str, Any]:
    """Plan of several cars as ``asfound plan --json`` prints it.

    As for one car, but ``proved`` and ``gap`` are of the finishes weighed by priority
    (`asfound.plan.cars.Cars`). Each task stands with its ``car``, and ``cars`` has the finish and
    the promise of each, what makes it late, what a day earlier costs, and the chain that it hangs
    on.
    """
    told = plan_json(question, plan, promise, critical)
    named = question.problem.named

    def under_car(task: str) -> dict[str, Any]:
        return {"car": named[task].car, "task": own_name(named[task])}

    return {
        **told,
        "gap": number(plan.gap),
        "tasks": [{**row, **under_car(row["task"])} for row in told["tasks"]],
        "critical": [under_car(task) for task in told["critical"]],
        "late_because": [{**row, **under_car(row["task"])} for row in told["late_because"]],
        "cars": [
            {
                "car": car,
                "priority": question.problem.priority.get(car, 1.0),
                "finish": local(question.at(plan.cars[car])),
                "finish_kept": number(promise.of(car).chance_by(plan.cars[car])),
                **promised_json(question, promise.of(car), car),
                **_promise_of(question, promise.of(car), under_car),
                "hangs_on": _hangs_on(question, plan, car, under_car),
            }
            for car in question.problem.priority
        ],
    }


def _promise_of(question: ShopQuestion, promise: Promise, under_car: _Named) -> dict[str, Any]:
    return {
        "promise": {name: promised(question, promise, chance) for name, chance in CHANCES.items()},
        "late_because": [
            {**under_car(one.task), "days_earlier": number(one.days_earlier)}
            for one in promise.drivers
        ],
        "a_day_earlier": [
            {"person": one.person, "overtime_hours": number(one.hours_a_day), "chance_of": 0.8}
            for one in promise.overtime
        ],
    }


def _hangs_on(
    question: ShopQuestion, plan: Plan, car: str, under_car: _Named
) -> list[dict[str, Any]]:
    """Chain that the car's finish hangs on, its first task first."""
    own = [task.task for task in question.problem.tasks if task.car == car]
    return [
        {
            **under_car(one.task),
            "waits_for": one.kind,
            "before": under_car(one.before) if one.before else None,
            "of": one.of or None,
        }
        for one in governors(question.problem, plan, own)
    ]
