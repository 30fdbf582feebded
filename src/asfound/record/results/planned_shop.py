"""What the core answered on the whole shop becomes its plan in days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime

from asfound.plan import Past, Plan, Promise
from asfound.record.convert.past import NO_PAST, past_words, shared_words, spread_words
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import own_name
from asfound.record.results.planned_car import planned_car
from asfound.record.results.shop_plan import PlannedShop, PlannedTask


def planned_shop(
    question: ShopQuestion,
    plan: Plan,
    promise: Promise,
    critical: tuple[str, ...],
    *,
    names: Mapping[str, str],
    cars: Mapping[str, tuple[str, date | None]],
    begun: frozenset[str],
    made_at: datetime,
    waits: Mapping[str, str] | None = None,
    past: Past = NO_PAST,
) -> PlannedShop:
    """A plan of the core with its days.

    Parameters
    ----------
    question, plan, promise, critical
        What was asked, and what the core answered.
    names : mapping of str to str
        What each task of the question is, in words.
    cars : mapping of str to (str, date or None)
        Name for people and promised day of each car, the weightiest first.
    begun : frozenset of str
    made_at : datetime
    waits : mapping of str to str
        By task of the question, what it waits for until its first day, where a hold tells it.
    past : Past
        What the hours were learned from.
    """
    named = question.problem.named
    return PlannedShop(
        made_at=made_at,
        days=plan.days,
        days_least=plan.days_least,
        proved=plan.proved,
        tasks=tuple(_planned_tasks(question, plan, names=names, begun=begun, critical=critical)),
        cars=tuple(
            planned_car(
                question,
                plan,
                promise,
                car=car,
                title=title,
                promised=promised,
                begun=begun,
                waits=waits or {},
            )
            for car, (title, promised) in cars.items()
            if car in plan.cars
        ),
        links=tuple(
            (named[link.before].car, own_name(named[link.before]), own_name(named[link.after]))
            for link in question.problem.links
        ),
        people=tuple(person.person for person in question.problem.people),
        bays=tuple(bay.bay for bay in question.problem.bays),
        past=tuple(past_words(past)),
        spread=spread_words(past),
        shared=shared_words(past),
        gap=None if plan.cost is None else plan.gap,
    )


def _planned_tasks(
    question: ShopQuestion,
    plan: Plan,
    *,
    names: Mapping[str, str],
    begun: frozenset[str],
    critical: tuple[str, ...],
) -> Iterator[PlannedTask]:
    """Tasks in the order in which the plan places them."""
    rests = _rests(question, plan)
    for placed in plan.placed:
        task = question.problem.named[placed.task]
        yield PlannedTask(
            car=task.car,
            task=own_name(task),
            name=names.get(placed.task, ""),
            bay=", ".join(task.bays),
            start=question.at(placed.start_min),
            end=question.at(placed.end_min),
            people=placed.people,
            rests_until=rests.get(placed.task),
            begun=placed.task in begun,
            critical=placed.task in critical,
        )


def _rests(question: ShopQuestion, plan: Plan) -> dict[str, datetime]:
    """Until when what follows each task waits by the clock, where it does."""
    ends = {placed.task: placed.end_min for placed in plan.placed}
    lags: dict[str, int] = {}
    for link in question.problem.links:
        lags[link.before] = max(lags.get(link.before, 0), link.lag_min)
    return {task: question.at(ends[task] + lag) for task, lag in lags.items() if lag}
