"""The work that is done beside the pages; each leaves its result where the pages look for it."""

from __future__ import annotations

from datetime import date

from django.core.cache import cache
from django.utils import timezone
from django_tasks import task

from asfound.base import StoppedError
from asfound.record.actions.proposal import last_signed
from asfound.record.background.telling import tell, tell_till_enough, told
from asfound.record.convert.past import NO_PAST
from asfound.record.convert.stored import folder_of, whole
from asfound.record.derived import (
    choice_result,
    decisions_in_doubt,
    effects_of,
    exact_reasons,
    plan_result,
    turning_of,
)
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Observation
from asfound.record.reads.past import shop_past
from asfound.record.reads.workshop import planning_folder
from asfound.record.shop_made import SHOP_ASKED, keep_plan
from asfound.record.shop_surprise import surprise_of_hold

_DAY_S = 86_400.0


@task()
def make_choice(*, key: str, car: str) -> None:
    """The choice over a car with its front and its reasons."""
    told(key, lambda: choice_result(_folder(car)))


@task()
def make_plan(*, key: str, car: str, start: str, past: bool = True) -> None:
    """The plan of a car from a day on, with its promise, learned from finished work or not."""
    learned = shop_past() if past else NO_PAST
    day = date.fromisoformat(start) if start else None
    folder = whole(planning_folder(Car.objects.get(slug=car)))

    def watched(done: float) -> None:
        tell_till_enough(key, done)

    told(key, lambda: plan_result(folder, start=day, past=learned, progress=watched))


@task()
def try_decisions(*, key: str, car: str, draws: int) -> None:
    """Which decisions hold within the doubt."""
    told(
        key, lambda: decisions_in_doubt(_folder(car), draws=draws, progress=lambda d: tell(key, d))
    )


@task()
def find_reasons(*, key: str, car: str) -> None:
    """The reasons that the choice over a large car had no time for."""
    told(key, lambda: exact_reasons(_folder(car), progress=lambda done: tell(key, done)))


@task()
def find_turning(*, key: str, car: str, subject: str) -> None:
    """The numbers at which the decision on one piece turns."""
    told(key, lambda: turning_of(_folder(car), subject, progress=lambda done: tell(key, done)))


@task()
def weigh_ways(*, key: str, car: str, piece: str) -> None:
    """What each option of a piece would change against what the owner signed last."""

    def weigh() -> None:
        found = Car.objects.get(slug=car)
        signed = last_signed(found)
        if signed is not None:
            folder = whole(folder_of(found))
            effects_of(folder, piece, signed.content, progress=lambda done: tell(key, done))

    told(key, weigh)


@task()
def weigh_hold(*, key: str, hold: int, change: bool = False) -> None:
    """What a hold, or its last change, does to the promise of the adopted plan."""
    row = Observation.objects.select_related("car").get(pk=hold)

    def weigh() -> None:
        found = surprise_of_hold(row, now=timezone.localtime(), change=change)
        cache.set(key, found, _DAY_S)

    told(key, weigh)


@task()
def plan_shop(*, key: str, past: bool = True) -> None:
    """A new plan of the shop, learned from finished work or not; none if another was asked for."""

    def tell_shop(done: float) -> None:
        if cache.get(SHOP_ASKED) != key:
            raise StoppedError
        tell_till_enough(key, done)

    told(key, lambda: keep_plan(key, now=timezone.localtime(), progress=tell_shop, with_past=past))


def _folder(slug: str) -> CarFolder:
    return whole(folder_of(Car.objects.get(slug=slug)))
