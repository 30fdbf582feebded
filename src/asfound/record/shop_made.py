"""A new plan of the shop, made from the record as it stands now."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.core.cache import cache

from asfound.base import AsfoundError
from asfound.plan import Earlier, Past, Plan, PlanProblem, Promise, Watched, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.as_files import canonical_json
from asfound.record.convert.holds import holding, waits_on
from asfound.record.convert.in_shop import promised_min
from asfound.record.convert.past import NO_PAST
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import CarAtWork, task_name
from asfound.record.convert.shop_now import shop_now
from asfound.record.convert.weekdays import first_day
from asfound.record.derived import PLAN_TABLES, inputs_hash
from asfound.record.models import Car, ShopCar, ShopPlan
from asfound.record.reads.past import shop_past
from asfound.record.reads.setbacks import late_now
from asfound.record.reads.shop_plan import adopted_plan, cars_at_work, shop_cars
from asfound.record.results.planned_shop import planned_shop
from asfound.record.results.shop_plan import PlannedShop

SHOP_ASKED = "plan-of-shop:asked"
"""Where the key of the plan that was asked for last is kept."""
SHOP_MADE = "plan-of-shop:made"
"""Where a plan that nobody has adopted yet is kept."""
WORK_S = 20.0
"""Seconds of the solver's own clock for the whole shop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MadePlan:
    """A plan that nobody has adopted yet.

    Parameters
    ----------
    shop : PlannedShop
    inputs_sha256 : str
        Of all that it was made from.
    follows : int or None
        Key of the adopted plan that it was held against.
    with_past : bool
        Whether hours were taken as finished work lets expect them.
    is_stopped : bool
        Whether the search was ended with the best so far.
    """

    shop: PlannedShop
    inputs_sha256: str
    follows: int | None
    with_past: bool = True
    is_stopped: bool = False

    @property
    def leaves_past_out(self) -> bool:
        """Whether hours were taken as written."""
        return not self.with_past


def shop_inputs(*, with_past: bool = True) -> str:
    """SHA-256 over all that a plan of the shop is made from, but for the hour."""
    return _inputs(cars_at_work(), shop_cars(), adopted_plan(), past_or_none(with_past))


def past_or_none(with_past: bool) -> Past:
    """What the workshop's finished work says, or nothing where it is left out."""
    return shop_past() if with_past else NO_PAST


def make_plan(
    *, now: datetime, progress: Callable[[float], None] | None = None, with_past: bool = True
) -> MadePlan | None:
    """Plan of the shop from now on; ``None`` where no task is left to do.

    ``with_past`` says whether hours are taken as finished work lets expect them.

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan.
    NoSolutionError
        If due days cannot be met together, or people are never in at the same time.
    StoppedError
        If ``progress`` raised it; ``EnoughError`` ends the search with the best so far, and with
        nothing where no plan that meets the due days was found yet.
    """
    watched = Watched(progress=progress)
    cars, pairs, last = cars_at_work(), shop_cars(), adopted_plan()
    past = past_or_none(with_past)
    inputs = _inputs(cars, pairs, last, past)
    adopted = PlannedShop.from_json(last.content) if last else None
    here = shop_now(cars, now=now, adopted=adopted, past=past)
    if here is None:
        return None
    found, day = _looked_for(_with_promises(here.question, pairs), here.earlier, past, watched)
    held = frozenset(here.earlier.held)
    return MadePlan(
        shop=planned_shop(
            here.question,
            found,
            day,
            critical_tasks(here.question.problem, found, held=held),
            names=_names(cars),
            cars={car.slug: (str(car), place.promised) for car, place in pairs},
            begun=held,
            made_at=now.replace(tzinfo=None, second=0, microsecond=0),
            waits=_waits(cars),
            past=past,
        ),
        inputs_sha256=inputs,
        follows=last.pk if last else None,
        with_past=with_past,
        is_stopped=watched.is_enough,
    )


def _with_promises(question: ShopQuestion, pairs: list[tuple[Car, ShopCar]]) -> PlanProblem:
    promised = {car.slug: place.promised for car, place in pairs if place.promised is not None}
    return replace(question.problem, promised_min=promised_min(promised, question.first_day))


def _looked_for(
    problem: PlanProblem, earlier: Earlier, past: Past, watched: Watched
) -> tuple[Plan, Promise]:
    with watched.searching():
        found = plan_work(problem, work_s=WORK_S, earlier=earlier, progress=watched.while_planning)
    day = promise_day(
        problem,
        found,
        held=frozenset(earlier.held),
        shared=past.shared,
        progress=watched.while_promising,
    )
    return found, day


def keep_plan(
    key: str, *, now: datetime, progress: Callable[[float], None], with_past: bool = True
) -> None:
    """Make the plan and keep it to be looked at, if it is still the one that is asked for.

    Raises
    ------
    AsfoundError
        As :func:`make_plan`, and where there is nothing to plan.
    """
    made = make_plan(now=now, progress=progress, with_past=with_past)
    if made is None:
        raise AsfoundError("Every task is done or no car has one: there is nothing to plan")
    if cache.get(SHOP_ASKED) == key:
        cache.set(SHOP_MADE, made)


def _names(cars: list[CarAtWork]) -> dict[str, str]:
    return {
        task_name(car.name, row.text("task")): row.text("name")
        for car in cars
        for row in car.folder.sheet("tasks")
    }


def _waits(cars: list[CarAtWork]) -> dict[str, str]:
    """What the tasks wait for that cannot begin before a day, where somebody wrote it down."""
    found, late = {}, late_now()
    for car in cars:
        holds = waits_on(car.folder)
        for row in car.folder.sheet("tasks"):
            own = holding(holds, task=row.text("task"), subject=row.text("subject"))
            told = [(one.expected, one.waits) for one in own if one.expected is not None]
            earliest = row.text("earliest")
            if written := late.get((car.name, row.text("task"), earliest), ""):
                told.append((first_day(earliest) or date.min, written))
            if told:
                name = task_name(car.name, row.text("task"))
                found[name] = max(told, key=lambda one: one[0])[1]
    return found


def _inputs(
    cars: list[CarAtWork], pairs: list[tuple[Car, ShopCar]], last: ShopPlan | None, past: Past
) -> str:
    promised = {car.slug: str(place.promised or "") for car, place in pairs}
    tables = (*PLAN_TABLES, "worked")
    told = [
        [car.name, car.priority, promised[car.name], inputs_hash(car.folder, tables)]
        for car in cars
    ]
    jobs = [[j.trade, j.kind, j.estimate_h, j.actual_h] for j in past.jobs]
    whole = {"cars": told, "follows": last.pk if last else None, "past": jobs}
    return hashlib.sha256(canonical_json(whole)).hexdigest()
