"""The work that is done beside the pages; each leaves its result where the pages look for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from django.core.cache import cache
from django.utils import timezone
from django_tasks import task

from asfound.base import AsfoundError, NoSolutionError, StoppedError
from asfound.record.background.asking import KEPT_S, STOPPED, progress_key, stop_key, tell_end
from asfound.record.convert.past import NO_PAST
from asfound.record.convert.stored import folder_of, whole
from asfound.record.derived import (
    choice_result,
    decisions_in_doubt,
    exact_reasons,
    plan_result,
    turning_of,
)
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads.past import shop_past
from asfound.record.shop_made import SHOP_ASKED, keep_plan


@task()
def make_choice(*, key: str, car: str) -> None:
    """The choice over a car with its front and its reasons."""
    _told(key, lambda: choice_result(_folder(car)))


@task()
def make_plan(*, key: str, car: str, start: str, past: bool = True) -> None:
    """The plan of a car from a day on, with its promise, learned from finished work or not."""
    told = shop_past() if past else NO_PAST
    day = date.fromisoformat(start) if start else None
    _told(key, lambda: plan_result(_folder(car), start=day, past=told))


@task()
def try_decisions(*, key: str, car: str, draws: int) -> None:
    """Which decisions hold within the doubt."""
    _told(
        key, lambda: decisions_in_doubt(_folder(car), draws=draws, progress=lambda d: _tell(key, d))
    )


@task()
def find_reasons(*, key: str, car: str) -> None:
    """The reasons that the choice over a large car had no time for."""
    _told(key, lambda: exact_reasons(_folder(car), progress=lambda done: _tell(key, done)))


@task()
def find_turning(*, key: str, car: str, subject: str) -> None:
    """The numbers at which the decision on one piece turns."""
    _told(key, lambda: turning_of(_folder(car), subject, progress=lambda done: _tell(key, done)))


@task()
def plan_shop(*, key: str) -> None:
    """A new plan of the shop, unless another was asked for meanwhile."""

    def tell(done: float) -> None:
        if cache.get(SHOP_ASKED) != key:
            raise StoppedError
        _tell(key, done)

    _told(key, lambda: keep_plan(key, now=timezone.localtime(), progress=tell))


def _folder(slug: str) -> CarFolder:
    return whole(folder_of(Car.objects.get(slug=slug)))


def _tell(key: str, done: float) -> None:
    """Tell the share that is done, and hear whether to stop."""
    if cache.get(stop_key(key)):
        raise StoppedError
    cache.set(progress_key(key), done, KEPT_S)


def _told(key: str, work: Callable[[], Any]) -> None:
    """Work done; what stands against it is told to whoever asked."""
    try:
        work()
    except StoppedError:
        tell_end(key, STOPPED)
    except InputFaultsError as error:
        tell_end(key, "\n".join(map(str, error.faults)), is_refused=True)
    except NoSolutionError as error:
        tell_end(key, "\n".join(error.clash) or str(error), is_refused=True)
    except AsfoundError as error:
        tell_end(key, str(error), is_refused=True)
    except Exception as error:
        tell_end(key, f"It failed: {type(error).__name__}.")
        raise
