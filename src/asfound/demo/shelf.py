"""The invented cars, their people and their dossier in the record."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth import get_user_model

from asfound.demo.accounts import Account, new_accounts
from asfound.demo.car import demo_folder
from asfound.demo.crew import keep_crew, without_crew
from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.money import keep_rates
from asfound.demo.pictures import keep_pictures
from asfound.demo.planned import plan_shop
from asfound.demo.proposals import propose
from asfound.demo.small_job import small_job_folder
from asfound.demo.stock import keep_stock
from asfound.record.actions import (
    create_account,
    grant_owner,
    load_car,
    release_room,
    set_password,
)
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Person, ShopPlan
from asfound.record.models.release import OwnersRoom


def load_once(*, days: Days = AS_WRITTEN) -> Car:
    """The invented car in the record; as people left it, if it was there already."""
    folder = demo_folder(days=days)
    found = _found(folder)
    if found is not None:
        return found
    car = load_car(folder=without_crew(folder), by=None)
    keep_pictures(car, days=days)
    keep_stock()
    keep_rates(days=days)
    keep_crew(days=days)
    return car


def load_small_job(*, days: Days = AS_WRITTEN) -> Car:
    """The second invented car in the record; as people left it, if it was there already."""
    folder = small_job_folder(days=days)
    return _found(folder) or load_car(folder=without_crew(folder), by=None)


def begin_work(car: Car, accounts: tuple[Account, ...], *, days: Days = AS_WRITTEN) -> None:
    """Let the owner sign what the work begins with, unless anything was proposed already."""
    if not car.proposals.exists():
        names = {account.role: account.name for account in accounts}
        propose(car, head=names["head"], owner=names["owner"], days=days)


def plan_once(
    cars: tuple[Car, Car], accounts: tuple[Account, ...], *, days: Days, now: datetime
) -> None:
    """Plan the invented cars, unless there is a plan or a car of somebody's own."""
    others = Car.objects.exclude(pk__in=[car.pk for car in cars])
    if ShopPlan.objects.exists() or others.exists():
        return
    head = next(account.name for account in accounts if account.role == "head")
    plan_shop(cars, days=days, now=now, by=get_user_model().objects.get(username=head))


def open_accounts(car: Car) -> tuple[Account, ...]:
    """Accounts to enter by, each with a password that is new at each call."""
    accounts = new_accounts()
    for account in accounts:
        person = _person(account)
        if person.is_owner and not car.owners.contains(person):
            grant_owner(car=car, owner=person, by=None)
            for room in OwnersRoom.values:
                release_room(car=car, room=room, by=None)
    return accounts


def _found(folder: CarFolder) -> Car | None:
    title = next(iter(folder.sheet("car")))
    return Car.objects.filter(
        is_invented=True, marque=title.text("marque"), model=title.text("model")
    ).first()


def _person(account: Account) -> Person:
    found = Person.objects.filter(user__username=account.name).first()
    if found is None:
        return create_account(
            username=account.name, role=account.role, password=account.password, by=None
        )
    set_password(person=found, password=account.password, by=None)
    return found
