"""The plan of a car with the day that can be promised, or what stands in the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from django.conf import settings
from django.core.cache import cache

from asfound.base import NoSolutionError, StoppedError
from asfound.plan import Past, Plan, Promise, Watched, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.convert.past import NO_PAST, finished, with_past
from asfound.record.convert.plan import ShopQuestion, shop_question
from asfound.record.derived.kept import kept, key_of
from asfound.record.folder import CarFolder

PLAN_WORK_S = 5.0
"""Seconds of the solver's own clock that a page waits for; the command line may give it more."""
PLAN_TABLES = ("tasks", "task_links", "people", "bays", "closed_days", "holds", "errands")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanResult:
    """The plan of a car with its promise, or what stands in the way.

    Parameters
    ----------
    question : ShopQuestion
    plan : Plan or None
        ``None`` when there is none; ``clash`` then says why.
    promise : Promise or None
    critical : tuple of str
        Tasks that set the finish.
    clash : tuple of str
    is_stopped : bool
        Whether the search was ended with the best so far.
    """

    question: ShopQuestion
    plan: Plan | None
    promise: Promise | None = None
    critical: tuple[str, ...] = ()
    clash: tuple[str, ...] = ()
    is_stopped: bool = False


def plan_result(
    folder: CarFolder,
    *,
    start: date | None = None,
    past: Past = NO_PAST,
    progress: Callable[[float], None] | None = None,
) -> PlanResult:
    """Plan of the car from a day on, with the day that can be promised as ``past`` lets expect.

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan, each at its row.
    StoppedError
        If ``progress`` raised it; ``EnoughError`` ends the search with the best so far, and with
        nothing where no plan that meets the due days was found yet.
    """
    key, watched = plan_key(folder, start=start, past=past), Watched(progress=progress)
    return kept(key, lambda: _plan(folder, start, past, watched, _so_far(key)))


def search_on(key: str) -> None:
    """Lay a plan aside that is the best until it was stopped, until a better one is made."""
    found: PlanResult | None = cache.get(key)
    if found is not None and found.is_stopped:
        cache.set(_aside(key), found)
        cache.delete(key)


def _aside(key: str) -> str:
    return f"{key}:so-far"


def _so_far(key: str) -> PlanResult | None:
    found: PlanResult | None = cache.get(_aside(key)) if settings.configured else None
    return found


def plan_key(folder: CarFolder, *, start: date | None = None, past: Past = NO_PAST) -> str:
    """Name under which :func:`plan_result` is kept."""
    told = start.isoformat() if start else ""
    if not past.jobs:
        return key_of("plan_result", folder, PLAN_TABLES, start=told)
    jobs = [[j.trade, j.kind, j.estimate_h, j.actual_h] for j in past.jobs]
    done = sorted(finished(folder))
    return key_of("plan_result", folder, PLAN_TABLES, start=told, past=jobs, done=done)


def plan_at_hand(folder: CarFolder, *, past: Past = NO_PAST) -> PlanResult | None:
    """Plan of the car from its own first day where one was made of what it is now; never made anew.

    For pages that cannot wait for a plan and do without.
    """
    found: PlanResult | None = cache.get(plan_key(folder, past=past))
    return found


def _plan(
    folder: CarFolder, start: date | None, past: Past, watched: Watched, so_far: PlanResult | None
) -> PlanResult:
    question = shop_question(folder, start=start)
    if past.jobs:
        question = with_past(question, past, done=finished(folder))
    try:
        with watched.searching():
            plan = plan_work(question.problem, work_s=PLAN_WORK_S, progress=watched.while_planning)
    except NoSolutionError as error:
        return PlanResult(question=question, plan=None, clash=error.clash)
    except StoppedError:
        if so_far is None:
            raise
        return so_far
    if so_far is not None and so_far.plan is not None and so_far.plan.finish_min < plan.finish_min:
        least = max(so_far.plan, plan, key=lambda one: one.finish_least_min)
        plan = replace(
            so_far.plan, finish_least_min=least.finish_least_min, days_least=least.days_least
        )
    return PlanResult(
        question=question,
        plan=plan,
        promise=promise_day(
            question.problem, plan, shared=past.shared, progress=watched.while_promising
        ),
        critical=critical_tasks(question.problem, plan),
        is_stopped=watched.is_enough,
    )
