"""Owners see what the head releases: every address of a car, with the room open and closed."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from tests.pages.conftest import Cast

from asfound.desk.rooms import ROOM_OF, room_of_address
from asfound.record.actions import release_room, withdraw_release
from asfound.record.models.release import OwnersRoom

ADDRESSES = {
    "survey": ("survey", "survey-svg", "survey-csv", "survey-json", "car-finish"),
    "decisions": ("decisions", "car-choice"),
    "parts": ("parts",),
    "dossier": ("dossier",),
}
PAGES = [(room, name) for room, names in ADDRESSES.items() for name in names]


def close(cast: Cast, *rooms: str) -> None:
    for room in rooms:
        withdraw_release(car=cast.car, room=room, reason="still at work", by=None)


def told(client: Client, name: str, cast: Cast) -> str:
    return client.get(reverse(name, args=(cast.car.slug,))).content.decode()


@pytest.mark.parametrize(("room", "name"), PAGES)
def test_a_room_that_is_not_released_says_so(cast: Cast, room: str, name: str) -> None:
    close(cast, room)
    address = reverse(name, args=(cast.car.slug,))
    answer = cast.owner.get(address)
    assert answer.status_code == 403
    assert "not released yet" in answer.content.decode()
    assert cast.craft.get(address).status_code == 200
    assert cast.stranger.get(address).status_code == 404
    release_room(car=cast.car, room=room, by=None)
    assert cast.owner.get(address).status_code == 200


@pytest.mark.parametrize("name", ["plan", "log"])
def test_a_page_of_the_workshop_promises_an_owner_nothing(cast: Cast, name: str) -> None:
    answer = cast.owner.get(reverse(name, args=(cast.car.slug,)))
    assert answer.status_code == 403
    page = answer.content.decode()
    assert "the workshop's own" in page
    assert "not shown to owners" in page
    assert "released" not in page


def test_the_sheet_of_the_car_shows_what_is_released(cast: Cast) -> None:
    close(cast, *OwnersRoom.values)
    page = told(cast.owner, "car", cast)
    assert "released nothing" in page
    for name in ("survey", "decisions", "dossier", "parts", "car-finish", "car-choice"):
        assert f'"{reverse(name, args=(cast.car.slug,))}"' not in page
    assert "What is missing" not in page
    release_room(car=cast.car, room="survey", by=None)
    page = told(cast.owner, "car", cast)
    assert reverse("car-finish", args=(cast.car.slug,)) in page
    assert reverse("car-choice", args=(cast.car.slug,)) not in page
    assert reverse("decisions", args=(cast.car.slug,)) in told(cast.craft, "car", cast)


def test_every_address_of_a_car_belongs_to_a_room() -> None:
    words = {
        route.partition("cars/<slug:slug>/")[2].partition("/")[0]
        for route in _routes(get_resolver().url_patterns, "")
        if route.startswith("cars/<slug:slug>/")
    }
    assert words >= {"", "survey", "decisions", "dossier", "log"}
    assert words <= set(ROOM_OF), "say in desk/rooms.py which room these belong to"


def test_an_address_that_no_room_names_is_closed() -> None:
    assert room_of_address("/cars/a/kitchen/survey/", "a") is None
    assert room_of_address("/somewhere/", "a") is None
    assert room_of_address("/cars/a/survey/map/", "a") == "survey"


def _routes(patterns: list, before: str):
    for one in patterns:
        route = before + str(one.pattern)
        if isinstance(one, URLResolver):
            yield from _routes(one.url_patterns, route)
        elif isinstance(one, URLPattern):
            yield route


@pytest.mark.parametrize("address", ["/cars/a%00b/", "/?page=%00"])
def test_a_nul_sign_is_no_fault_of_the_program(cast: Cast, address: str) -> None:
    assert cast.head.get(address).status_code in (400, 404)


def test_a_nul_sign_in_a_form_is_refused(cast: Cast) -> None:
    address = reverse("release", args=(cast.car.slug, "seats"))
    assert cast.head.post(address, {"reason": "a\0b"}).status_code == 400
