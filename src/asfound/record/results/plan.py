"""The plan of a car in the shape of the contract."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from asfound.plan import Plan, Promise
from asfound.plan.working_time import DAY_MIN
from asfound.record.convert.plan import ShopQuestion
from asfound.record.results.estimate import number

CHANCES = {"p50": 0.5, "p80": 0.8, "p95": 0.95}


def plan_json(
    question: ShopQuestion, plan: Plan, promise: Promise, critical: tuple[str, ...]
) -> dict[str, Any]:
    """Plan as ``asfound plan --json`` prints it.

    Parameters
    ----------
    question : ShopQuestion
    plan : Plan
    promise : Promise
    critical : tuple of str
        Tasks that set the finish.
    """
    return {
        "days": number(plan.days),
        "lower_bound_days": number(plan.days_least),
        "proved": plan.proved,
        "start": question.first_day.isoformat(),
        "finish": local(question.at(plan.finish_min)),
        "tasks": [
            {
                "task": placed.task,
                "start": local(question.at(placed.start_min)),
                "end": local(question.at(placed.end_min)),
                "people": list(placed.people),
                "bay": next(iter(question.problem.named[placed.task].bays), None),
            }
            for placed in plan.placed
        ],
        "promise": {name: promised(question, promise, chance) for name, chance in CHANCES.items()},
        "draws": promise.draws,
        "patience_days": number(promise.patience_min / DAY_MIN),
        "finish_kept": number(promise.chance_by(plan.finish_min)),
        **promised_json(question, promise, ""),
        "critical": list(critical),
        "late_because": [
            {"task": driver.task, "days_earlier": number(driver.days_earlier)}
            for driver in promise.drivers
        ],
        "a_day_earlier": [
            {
                "person": over.person,
                "overtime_hours": number(over.hours_a_day),
                "chance_of": 0.8,
            }
            for over in promise.overtime
        ],
        "impossible": None,
    }


def no_plan_json(question: ShopQuestion, clash: tuple[str, ...]) -> dict[str, Any]:
    """Answer where there is no plan, with the reasons."""
    return {
        "days": None,
        "lower_bound_days": None,
        "proved": False,
        "start": question.first_day.isoformat(),
        "finish": None,
        "tasks": [],
        "promise": dict.fromkeys(CHANCES),
        "critical": [],
        "late_because": [],
        "a_day_earlier": [],
        "impossible": list(clash),
    }


def goes_on(promise: Promise) -> str:
    """How the shop goes on in the draws where something is late, in words."""
    if not promise.patience_min:
        return "where something is late, the next task that is ready is taken up"
    if promise.patience_min == DAY_MIN:
        return "what is a day late gives way to the next task that is ready"
    return "tasks keep their turn, and a colleague with the trade takes up what is late"


def promised(question: ShopQuestion, promise: Promise, chance: float) -> str:
    """Day on which the finish falls that is kept with a chance, 0–1."""
    return question.at(promise.by(chance)).date().isoformat()


def promised_json(question: ShopQuestion, promise: Promise, car: str) -> dict[str, Any]:
    """Day told to the owner of a car, and the chance that it is kept; nothing where none was."""
    end_min = question.problem.promised_min.get(car)
    if end_min is None:
        return {}
    day = question.at(end_min).date() - timedelta(days=1)
    return {"promised": day.isoformat(), "kept": number(promise.chance_by(end_min))}


def local(time: datetime) -> str:
    """Local time to the minute."""
    return time.isoformat(timespec="minutes")
