"""The cast of the page tests: a head, a craftsperson, an owner and a stranger, and one car."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from copy import deepcopy
from dataclasses import dataclass
from http.cookies import SimpleCookie

import pytest
from django.core.cache import cache
from django.db import transaction
from django.test import Client
from pytest_django import DjangoDbBlocker
from tests.pages.small_car import small_car

from asfound.record.actions import create_account, grant_owner, load_car, release_room
from asfound.record.background.place import workers_folder
from asfound.record.background.worker import StoppableWorker
from asfound.record.draft import draft_file
from asfound.record.models import Car, Person
from asfound.record.models.release import OwnersRoom

PASSWORD = "walnut-veneer-41"
Once = Callable[[], AbstractContextManager[None]]
"""Opens the database for what is made once for a file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """Who is at the desk, and the car they are about."""

    car: Car
    head: Client
    craft: Client
    owner: Client
    stranger: Client
    nobody: Client
    head_person: Person


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.fixture(scope="module")
def once(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Once]:
    """A transaction around a file: what is made in it is there for each of its tests."""
    around = transaction.atomic()
    with django_db_blocker.unblock():
        around.__enter__()
    yield django_db_blocker.unblock
    with django_db_blocker.unblock():
        transaction.set_rollback(True)
        around.__exit__(None, None, None)


@pytest.fixture(scope="module")
def car_made(once: Once) -> Car:
    with once():
        return load_car(folder=small_car(), by=None)


@pytest.fixture(scope="module")
def _signed_in(once: Once, car_made: Car) -> dict[str, SimpleCookie[str]]:
    """Cookies of everybody of the cast, by name."""
    with once():
        people = {"owner": _account("owner", "owner")}
        grant_owner(car=car_made, owner=people["owner"], by=None)
        for room in OwnersRoom.values:
            release_room(car=car_made, room=room, by=None)
        for name, role in (("head", "head"), ("trimmer", "craftsperson"), ("stranger", "owner")):
            people[name] = _account(name, role)
        return {name: _cookies(person) for name, person in people.items()}


def _account(username: str, role: str) -> Person:
    return create_account(username=username, role=role, password=PASSWORD, by=None)


def _cookies(person: Person) -> SimpleCookie[str]:
    client = Client()
    client.force_login(person.user)
    return client.cookies


@pytest.fixture
def car(db: None, car_made: Car) -> Car:
    return Car.objects.get(pk=car_made.pk)


@pytest.fixture
def account(db: None) -> Callable[[str, str], Person]:
    return _account


@pytest.fixture
def cast(car: Car, _signed_in: dict[str, SimpleCookie[str]]) -> Cast:
    def client(name: str) -> Client:
        made = Client()
        made.cookies = deepcopy(_signed_in[name])
        return made

    return Cast(
        car=car,
        head_person=Person.objects.get(user__username="head"),
        head=client("head"),
        craft=client("trimmer"),
        owner=client("owner"),
        stranger=client("stranger"),
        nobody=Client(),
    )


@pytest.fixture
def worker() -> Iterator[StoppableWorker]:
    """A worker that lives, and works when it is told to."""
    cache.clear()
    with draft_file(workers_folder()) as (held, _):
        yield StoppableWorker(held.name)
