"""The plan that people act on, the cars in the shop, and what a secret address shows."""

from __future__ import annotations

from asfound.record.actions.tablet import hash_of_key
from asfound.record.convert.shop import CarAtWork
from asfound.record.convert.workshop import lent_to
from asfound.record.models import Car, PlanAddress, ShopCar, ShopPlan
from asfound.record.reads.workshop import planning_folder, workshop_sheets
from asfound.record.results.shop_plan import PlannedShop


def adopted_plan() -> ShopPlan | None:
    """Plan that was adopted last."""
    return ShopPlan.objects.select_related("by").first()


def adopted_shop() -> PlannedShop | None:
    """The same, read."""
    last = adopted_plan()
    return None if last is None else PlannedShop.from_json(last.content)


def shop_cars() -> list[tuple[Car, ShopCar]]:
    """Cars that have tasks, each with its place in the shop, the weightiest first."""
    cars = [car for car in Car.objects.select_related("in_shop") if car.heads.get("tasks")]
    pairs = [(car, getattr(car, "in_shop", None) or ShopCar(car=car)) for car in cars]
    return sorted(pairs, key=lambda pair: (not pair[1].at_work, -pair[1].priority, pair[0].slug))


def cars_at_work() -> list[CarAtWork]:
    """Cars in the shop as they are planned."""
    shared = workshop_sheets()
    folders = (
        (car, place, planning_folder(car, shared)) for car, place in shop_cars() if place.at_work
    )
    return [
        CarAtWork(name=car.slug, folder=folder, priority=place.priority, lent=lent_to(folder))
        for car, place, folder in folders
    ]


def address_of_key(key: str, kind: str) -> PlanAddress | None:
    """Secret address that bears the key, unless it was withdrawn."""
    found = PlanAddress.objects.current().select_related("car")
    return found.filter(kind=kind, key_sha256=hash_of_key(key)).first() if key else None
