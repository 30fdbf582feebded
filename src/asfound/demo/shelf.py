"""The invented car, its people and its dossier in the record."""

from __future__ import annotations

from asfound.demo.accounts import Account, new_accounts
from asfound.demo.car import demo_folder
from asfound.demo.crew import keep_crew, without_crew
from asfound.demo.money import keep_rates
from asfound.demo.pictures import keep_pictures
from asfound.demo.signed import sign_first
from asfound.demo.stock import keep_stock
from asfound.record.actions import (
    create_account,
    grant_owner,
    load_car,
    release_room,
    set_password,
)
from asfound.record.models import Car, Person
from asfound.record.models.release import OwnersRoom


def load_once() -> Car:
    """The invented car in the record; as people left it, if it was there already."""
    folder = demo_folder()
    title = next(iter(folder.sheet("car")))
    found = Car.objects.filter(
        is_invented=True, marque=title.text("marque"), model=title.text("model")
    ).first()
    if found is not None:
        return found
    car = load_car(folder=without_crew(folder), by=None)
    keep_pictures(car)
    keep_stock()
    keep_rates()
    keep_crew()
    return car


def begin_work(car: Car, accounts: tuple[Account, ...]) -> None:
    """Let the owner sign what the work begins with, unless anything was proposed already."""
    if not car.proposals.exists():
        names = {account.role: account.name for account in accounts}
        sign_first(car, head=names["head"], owner=names["owner"])


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


def _person(account: Account) -> Person:
    found = Person.objects.filter(user__username=account.name).first()
    if found is None:
        return create_account(
            username=account.name, role=account.role, password=account.password, by=None
        )
    set_password(person=found, password=account.password, by=None)
    return found
