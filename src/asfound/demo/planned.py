"""The plan of the invented workshop: adopted on Friday, upset on Monday, adopted anew."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.demo.days import Days
from asfound.record.actions.setback import named_task, not_before, tell_setback
from asfound.record.actions.shop_plan import adopt_plan, set_shop_car
from asfound.record.models import Car, ShopPlan
from asfound.record.shop_made import make_plan

_FRIDAY = "2024-04-12T16:00+00:00"
_LATE = date(2024, 5, 14)
_LATE_TASK = "T29"
_PRIORITIES = (1.0, 3.0)
_PROMISED = (date(2024, 5, 16), date(2024, 4, 24))


def plan_shop(cars: tuple[Car, Car], *, days: Days, now: datetime, by: Any) -> None:
    """Promise a day for each car, plan both together, let the plater be late, plan again."""
    for car, priority, promised in zip(cars, _PRIORITIES, _PROMISED, strict=True):
        set_shop_car(
            car=car,
            priority=priority,
            promised=days.day(promised),
            at_work=True,
            today=days.at(_FRIDAY).date(),
            by=by,
        )
    first = _adopt(
        at=days.at(_FRIDAY), follows=None, because="Invented: the week that comes", by=by
    )
    _plater_is_late(cars[0], days=days, by=by)
    _adopt(at=now, follows=first, because="Invented: the plater is late with the rims", by=by)


def _adopt(*, at: datetime, follows: ShopPlan | None, because: str, by: Any) -> ShopPlan:
    made = make_plan(now=timezone.localtime(at))
    assert made is not None, "the demo has tasks to do"
    return adopt_plan(
        shop=made.shop,
        inputs_sha256=made.inputs_sha256,
        by=by,
        follows=follows,
        because=because,
        at=at,
    )


@transaction.atomic
def _plater_is_late(car: Car, *, days: Days, by: Any) -> None:
    until = days.day(_LATE)
    not_before(car=car, task=_LATE_TASK, until=until, today=days.at(_FRIDAY).date(), by=by)
    what = "Rims from Halder Plating (invented)"
    tell_setback(
        words=f"{what}: {named_task(car, _LATE_TASK)} not before "
        f"{until:%a} {until.day} {until:%b %Y}",
        by=by,
        car=car.slug,
        task=_LATE_TASK,
        what=what,
        until=until.isoformat(),
    )
