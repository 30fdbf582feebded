"""The cast of the page tests: a head, a craftsperson, an owner and a stranger, and one car."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import pytest
from django.core.cache import cache
from django.test import Client
from tests.pages.small_car import small_car

from asfound.record.actions import create_account, grant_owner, load_car, release_room
from asfound.record.background.place import workers_folder
from asfound.record.background.worker import _Stoppable
from asfound.record.draft import draft_file
from asfound.record.models import Car, Person
from asfound.record.models.release import OwnersRoom

PASSWORD = "walnut-veneer-41"


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


@pytest.fixture
def car(db: None) -> Car:
    return load_car(folder=small_car(), by=None, open_file=_no_file)


def _no_file(kept: object):
    raise AssertionError("the small car has no files")


@pytest.fixture
def account(db: None) -> Callable[[str, str], Person]:
    def make(username: str, role: str) -> Person:
        return create_account(username=username, role=role, password=PASSWORD, by=None)

    return make


@pytest.fixture
def cast(car: Car, account: Callable[[str, str], Person]) -> Cast:
    owner = account("owner", "owner")
    grant_owner(car=car, owner=owner, by=None)
    for room in OwnersRoom.values:
        release_room(car=car, room=room, by=None)
    head = account("head", "head")
    return Cast(
        car=car,
        head_person=head,
        head=_signed_in(head),
        craft=_signed_in(account("trimmer", "craftsperson")),
        owner=_signed_in(owner),
        stranger=_signed_in(account("stranger", "owner")),
        nobody=Client(),
    )


def _signed_in(person: Person) -> Client:
    client = Client()
    client.force_login(person.user)
    return client


@pytest.fixture
def worker() -> Iterator[_Stoppable]:
    """A worker that lives, and works when it is told to."""
    cache.clear()
    with draft_file(workers_folder()) as (held, _):
        yield _Stoppable(held.name)
