"""Who may open which page: every address against every kind of visitor."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

READ = [
    ("car", ()),
    ("car-finish", ()),
    ("car-choice", ()),
    ("survey", ()),
    ("survey-svg", ()),
    ("survey-csv", ()),
    ("survey-json", ()),
    ("panel", ("bonnet",)),
    ("decisions", ()),
    ("piece", ("seats",)),
    ("dossier", ()),
]
WRITE = [
    ("load-film", ()),
    ("edit-brief", ()),
]
POST = [
    ("panel", ("bonnet",)),
    ("load-film", ()),
    ("lock", ("seats",)),
    ("release", ("seats",)),
    ("edit-brief", ()),
    ("dossier", ()),
]


@pytest.mark.parametrize(("name", "rest"), READ)
def test_who_may_see_the_car_reads_every_page(cast: Cast, name: str, rest: tuple) -> None:
    address = reverse(name, args=(cast.car.slug, *rest))
    assert [c.get(address).status_code for c in (cast.head, cast.craft, cast.owner)] == [200] * 3


@pytest.mark.parametrize(("name", "rest"), READ + WRITE)
def test_a_car_of_others_does_not_exist_for_a_stranger(cast: Cast, name: str, rest: tuple) -> None:
    assert cast.stranger.get(reverse(name, args=(cast.car.slug, *rest))).status_code == 404


@pytest.mark.parametrize(("name", "rest"), READ + WRITE)
def test_who_is_not_signed_in_is_sent_to_sign_in(cast: Cast, name: str, rest: tuple) -> None:
    address = reverse(name, args=(cast.car.slug, *rest))
    answer = cast.nobody.get(address)
    assert answer.status_code == 302
    assert answer.url == f"{reverse('sign-in')}?next={address.replace(' ', '%20')}"


@pytest.mark.parametrize(("name", "rest"), WRITE)
def test_an_owner_may_not_open_what_writes(cast: Cast, name: str, rest: tuple) -> None:
    answer = cast.owner.get(reverse(name, args=(cast.car.slug, *rest)))
    assert answer.status_code == 403
    assert "Nothing was written" in answer.content.decode()


@pytest.mark.parametrize(("name", "rest"), POST)
def test_an_owner_may_not_write(cast: Cast, name: str, rest: tuple) -> None:
    assert cast.owner.post(reverse(name, args=(cast.car.slug, *rest))).status_code == 403


@pytest.mark.parametrize(("name", "rest"), POST)
def test_a_stranger_may_not_write(cast: Cast, name: str, rest: tuple) -> None:
    assert cast.stranger.post(reverse(name, args=(cast.car.slug, *rest))).status_code == 404


def test_a_fragment_of_a_session_that_ended_has_its_page_loaded_again(cast: Cast) -> None:
    address = reverse("survey-map", args=(cast.car.slug,))
    answer = cast.nobody.get(address, headers={"HX-Request": "true"}, follow=True)
    assert answer.headers["HX-Refresh"] == "true"


def test_an_owner_sees_only_their_own_car_in_the_list(cast: Cast) -> None:
    assert "Orvelle Tansy" in cast.owner.get(reverse("cars")).content.decode()
    assert "Orvelle Tansy" not in cast.stranger.get(reverse("cars")).content.decode()


def test_an_owner_may_not_load_a_car(cast: Cast) -> None:
    assert cast.owner.get(reverse("load-car")).status_code == 403


@pytest.mark.parametrize("address", ["/nothing-here/", "/cars/no-such-car/"])
def test_an_address_without_a_page_says_what_to_do(cast: Cast, address: str) -> None:
    answer = cast.head.get(address)
    assert answer.status_code == 404
    assert "list of cars" in answer.content.decode()


def test_every_page_of_an_invented_car_says_so(cast: Cast) -> None:
    for name, rest in READ[:1] + READ[3:4] + READ[7:]:
        page = cast.head.get(reverse(name, args=(cast.car.slug, *rest))).content.decode()
        assert "Invented car: all data made up" in page, name
