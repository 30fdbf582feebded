"""The plan of the whole shop: adopted, gone back to; priorities; secret addresses."""

from __future__ import annotations

import math
import secrets
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.tablet import hash_of_key
from asfound.record.actions.who import check_is_head
from asfound.record.log import write_entry
from asfound.record.models import Car, PlanAddress, ShopCar, ShopPlan
from asfound.record.results.shop_plan import PlannedShop

WHY_HEAD = "The head of the workshop adopts the plan that everybody acts on."
MOST_PRIORITY = 1000.0
ADOPT = "adopt plan"


@transaction.atomic
def adopt_plan(
    *,
    shop: PlannedShop,
    inputs_sha256: str,
    by: Any,
    follows: ShopPlan | None,
    because: str = "",
    at: datetime | None = None,
) -> ShopPlan:
    """The plan that everybody acts on from now; the one before stays readable.

    Parameters
    ----------
    shop : PlannedShop
    inputs_sha256 : str
        Of what it was made from.
    by : user or None
    follows : ShopPlan or None
        The plan that whoever adopts it had before them.
    because : str
    at : datetime or None
        When; now if not given.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If another plan was adopted meanwhile.
    """
    check_is_head(by, WHY_HEAD)
    last = ShopPlan.objects.select_for_update().first()
    if (last.pk if last else None) != (follows.pk if follows else None):
        raise InputError(
            field="plan",
            got="a plan that somebody else adopted meanwhile",
            allowed="the plan that you compared with",
            remedy="Look at what changes against it, and adopt then.",
        )
    now = at or timezone.now()
    before = PlannedShop.from_json(last.content) if last else None
    content = shop.numbered(before, at=now.isoformat(timespec="seconds")).to_json()
    made: ShopPlan = ShopPlan.objects.create(
        content=content,
        inputs_sha256=inputs_sha256,
        because=because.strip(),
        follows=last,
        adopted_at=now,
        by=by,
    )
    told = {"plan": made.pk, "inputs": inputs_sha256, "because": made.because}
    finishes = {car["car"]: car["finish"] for car in content["cars"]}
    write_entry(
        action=ADOPT,
        by=by,
        before={"plan": last.pk} if last else None,
        after={**told, "finishes": finishes},
    )
    return made


@transaction.atomic
def set_shop_car(
    *, car: Car, priority: float, promised: date | None, at_work: bool, today: date, by: Any
) -> ShopCar:
    """How the plan of the shop takes a car.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If the priority is not above 0 and at most 1000, or a day is promised that is past.
    """
    check_is_head(by, WHY_HEAD)
    if not (math.isfinite(priority) and 0 < priority <= MOST_PRIORITY):
        raise InputError(field="priority", got=priority, allowed="above 0, at most 1000")
    place, _ = ShopCar.objects.get_or_create(car=car)
    if promised is not None and promised < today and promised != place.promised:
        raise InputError(
            field="promised",
            got=promised.isoformat(),
            allowed=f"today, {today.isoformat()}, or later",
            remedy="Correct the day, or leave it empty.",
        )
    before = _told(place)
    place.priority, place.promised, place.at_work = priority, promised, at_work
    place.save()
    if before != _told(place):
        write_entry(action="set car in shop", by=by, car=car, before=before, after=_told(place))
    return place


def _told(place: ShopCar) -> dict[str, Any]:
    promised = place.promised.isoformat() if place.promised else None
    return {"priority": place.priority, "promised": promised, "at_work": place.at_work}


@transaction.atomic
def make_address(
    *, kind: str, by: Any, about: str = "", car: Car | None = None
) -> tuple[PlanAddress, str]:
    """Secret address, and the key in it, which is shown this once: the record has its hash.

    One that showed the same is withdrawn.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    """
    check_is_head(by, "The head of the workshop gives secret addresses.")
    for old in PlanAddress.objects.current().filter(kind=kind, about=about, car=car):
        withdraw_address(address=old, by=by)
    key = secrets.token_urlsafe(32)
    made = PlanAddress.objects.create(
        kind=kind, about=about, car=car, key_sha256=hash_of_key(key), made_by=by
    )
    write_entry(action="make plan address", by=by, car=car, after={"address": str(made)})
    return made, key


@transaction.atomic
def withdraw_address(*, address: PlanAddress, by: Any) -> None:
    """Let the address answer no more.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If it was withdrawn already.
    """
    check_is_head(by, "The head of the workshop gives secret addresses.")
    held = PlanAddress.objects.select_for_update().current().filter(pk=address.pk).first()
    if held is None:
        raise InputError(field="address", got=str(address), allowed="one that still answers")
    held.withdrawn_at, held.withdrawn_by = timezone.now(), by
    held.save(update_fields=["withdrawn_at", "withdrawn_by"])
    write_entry(action="withdraw plan address", by=by, car=held.car, after={"address": str(held)})
