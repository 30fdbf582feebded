"""The pages of people: only the head's, invitations, PINs at shared tablets, releases."""

from __future__ import annotations

import re

import pytest
from django.core.cache import caches
from django.test import Client
from django.urls import reverse
from tests.pages.conftest import PASSWORD, Cast

from asfound.desk.account.tries import CACHE
from asfound.desk.people.door import TABLET_COOKIE
from asfound.record.actions import add_tablet, set_pin
from asfound.record.models import Entry, Invitation, Person, Tablet

NEW = "walnut-burr-nine"
HEADS = ("people", "invitations", "tablets")


@pytest.fixture(autouse=True)
def no_tries():
    caches[CACHE].clear()


@pytest.fixture
def trimmer(cast: Cast) -> Person:
    return Person.objects.get(user__username="trimmer")


@pytest.fixture
def tablet(cast: Cast) -> Client:
    """A shared tablet at which nobody is signed in."""
    _, key = add_tablet(name="paint shop", by=cast.head_person.user)
    client = Client()
    client.cookies[TABLET_COOKIE] = key
    return client


def text(answer: object) -> str:
    return answer.content.decode()  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", HEADS)
def test_the_pages_of_people_are_the_heads(cast: Cast, name: str) -> None:
    address = reverse(name)
    assert cast.head.get(address).status_code == 200
    for client in (cast.craft, cast.owner, cast.stranger):
        assert client.get(address).status_code == 403
        assert client.post(address, {}).status_code in (403, 405)
    assert cast.nobody.get(address).status_code == 302


def test_one_person_and_the_owners_page_are_the_heads_too(cast: Cast, trimmer: Person) -> None:
    person, owner = (
        reverse("person", args=(trimmer.pk,)),
        reverse("car-owner", args=(cast.car.slug,)),
    )
    for address in (person, owner):
        assert cast.head.get(address).status_code == 200
        assert cast.craft.get(address).status_code == 403
        assert cast.craft.post(address, {"step": "withdraw", "reason": "x"}).status_code == 403
        assert cast.owner.get(address).status_code == 403
    assert cast.stranger.get(owner).status_code == 404


def test_an_invitation_is_made_followed_once_and_withdrawn(cast: Cast) -> None:
    asked = {"whom": "the new owner", "role": "owner", "car": cast.car.slug}
    page = cast.head.post(reverse("invitations"), asked, follow=True)
    (link,) = re.findall(r'value="(http://testserver/invitation/[^"]+)"', text(page))
    guest = Client()
    assert "owner" in text(guest.get(link))
    typed = {"username": "ada", "password": NEW, "again": "another"}
    assert guest.post(link, typed).status_code == 422
    weak = guest.post(link, {"username": "ada", "password": "12345678", "again": "12345678"})
    assert weak.status_code == 422
    taken = guest.post(link, {"username": "head", "password": NEW, "again": NEW})
    assert "free" in text(taken)
    assert not Person.objects.filter(user__username="ada").exists()
    done = guest.post(link, typed | {"again": NEW})
    assert done.url == reverse("cars")
    assert "Orvelle Tansy" in text(guest.get(reverse("cars")))
    assert Client().get(link).status_code == 410
    assert Client().post(link, typed | {"username": "eve", "again": NEW}).status_code == 410


def test_a_withdrawn_or_mangled_link_opens_nothing(cast: Cast) -> None:
    cast.head.post(reverse("invitations"), {"whom": "x", "role": "craftsperson"})
    made = Invitation.objects.get()
    page = text(cast.head.get(reverse("invitations")))
    (link,) = re.findall(r'value="(http://testserver/invitation/[^"]+)"', page)
    assert "You are head" in text(cast.head.get(link))
    assert Client().get(f"{link[:-4]}/").status_code == 410
    withdraw = reverse("withdraw-invitation", args=(made.pk,))
    assert cast.head.post(withdraw, {"reason": " "}).status_code == 409
    cast.head.post(withdraw, {"reason": "wrong person"})
    assert Client().get(link).status_code == 410


def test_a_car_goes_with_an_owner_alone(cast: Cast) -> None:
    for asked in (
        {"whom": "x", "role": "head", "car": cast.car.slug},
        {"whom": "x", "role": "owner", "car": "no-such-car"},
        {"whom": "", "role": "owner"},
    ):
        assert cast.head.post(reverse("invitations"), asked).status_code == 422
    assert not Invitation.objects.exists()


def test_access_withdrawn_signs_out_at_once_and_comes_back(cast: Cast, trimmer: Person) -> None:
    address = reverse("person", args=(trimmer.pk,))
    assert cast.head.post(address, {"step": "withdraw", "reason": ""}).status_code == 422
    cast.head.post(address, {"step": "withdraw", "reason": "left"})
    assert cast.craft.get(reverse("cars")).status_code == 302
    assert "access withdrawn" in text(cast.head.get(reverse("people")))
    cast.head.post(address, {"step": "restore"})
    assert Client().login(username="trimmer", password=PASSWORD)
    assert cast.head.post(address, {"step": "restore"}).status_code == 422


def test_the_only_head_cannot_lock_the_workshop_out(cast: Cast) -> None:
    address = reverse("person", args=(cast.head_person.pk,))
    answer = cast.head.post(address, {"step": "withdraw", "reason": "x"})
    assert answer.status_code == 422
    assert "not the only head" in text(answer)
    answer = cast.head.post(address, {"step": "role", "role": "owner", "reason": "x"})
    assert "not the only head" in text(answer)


def test_the_head_sets_a_forgotten_password_and_a_role(cast: Cast, trimmer: Person) -> None:
    address = reverse("person", args=(trimmer.pk,))
    assert cast.head.post(address, {"step": "password", "password": "short"}).status_code == 422
    cast.head.post(address, {"step": "password", "password": NEW})
    assert cast.craft.get(reverse("cars")).status_code == 302
    assert Client().login(username="trimmer", password=NEW)
    cast.head.post(address, {"step": "role", "role": "head", "reason": "takes over"})
    trimmer.refresh_from_db()
    assert trimmer.is_head


def test_ones_own_password_takes_the_old_one(cast: Cast) -> None:
    address = reverse("own-account")
    wrong = {"step": "password", "old": "no", "password": NEW}
    assert cast.craft.post(address, wrong).status_code == 422
    cast.craft.post(address, wrong | {"old": PASSWORD})
    assert cast.craft.get(reverse("cars")).status_code == 200
    assert Client().login(username="trimmer", password=NEW)
    for _ in range(5):
        cast.craft.post(address, wrong)
    assert "Too many wrong tries" in text(cast.craft.post(address, wrong | {"old": NEW}))


def test_an_owner_has_no_pin(cast: Cast) -> None:
    assert "PIN" not in text(cast.owner.get(reverse("own-account")))
    assert cast.owner.post(reverse("own-account"), {"step": "pin", "pin": "4831"}).status_code in (
        403,
        422,
    )


def test_a_device_becomes_a_tablet_and_is_withdrawn(cast: Cast) -> None:
    page = cast.head.post(reverse("tablets"), {"name": "trim shop"}, follow=True)
    assert "It is the tablet" in text(page)
    cookie = cast.head.cookies[TABLET_COOKIE]
    assert cookie["httponly"]
    tablet = Tablet.objects.get()
    assert cookie.value not in tablet.key_sha256
    withdraw = reverse("withdraw-tablet", args=(tablet.pk,))
    cast.head.post(withdraw, {"reason": "lost"})
    assert "It is the tablet" not in text(cast.head.get(reverse("tablets")))


def test_elsewhere_no_names_are_shown_and_no_pin_is_taken(cast: Cast, trimmer: Person) -> None:
    set_pin(person=trimmer, pin="4831", by=None)
    assert cast.nobody.get(reverse("tablet-names")).url == reverse("sign-in")
    enter = reverse("tablet-pin", args=(trimmer.pk,))
    assert cast.nobody.post(enter, {"pin": "4831"}).url == reverse("sign-in")
    assert cast.nobody.get(reverse("cars")).status_code == 302


def test_a_pin_at_a_tablet_lets_in_and_writes_bear_the_name(
    cast: Cast, tablet: Client, trimmer: Person
) -> None:
    cast.craft.post(reverse("own-account"), {"step": "pin", "pin": "4831"})
    wanted = reverse("panel", args=(cast.car.slug, "bonnet"))
    names = tablet.get(wanted, follow=True)
    assert names.redirect_chain[-1][0].startswith(reverse("tablet-names"))
    enter = reverse("tablet-pin", args=(trimmer.pk,))
    assert f'href="{enter}?next={wanted}"' in text(names)
    wrong = tablet.post(enter, {"pin": "0000", "next": wanted})
    assert wrong.status_code == 422
    assert "not the PIN" in text(wrong)
    assert tablet.post(enter, {"pin": "4831", "next": wanted}).url == wanted
    reading = cast.car.film_readings.first()
    correct = reverse("correct", args=(cast.car.slug, reading.pk))
    tablet.post(correct, {"step": "withdraw", "reason": "seam"})
    assert (Entry.objects.last().action, Entry.objects.last().who) == (
        "withdraw film reading",
        "trimmer",
    )


def test_handing_over_takes_one_tap_and_stays_on_the_page(
    cast: Cast, tablet: Client, trimmer: Person
) -> None:
    set_pin(person=trimmer, pin="4831", by=None)
    tablet.post(reverse("tablet-pin", args=(trimmer.pk,)), {"pin": "4831"})
    page = reverse("survey", args=(cast.car.slug,))
    assert "Switch person" in text(tablet.get(page))
    names = tablet.post(reverse("switch-person"), {"next": page}, follow=True)
    assert "Who is here?" in text(names)
    assert f"next={page}" in text(names)
    assert tablet.get(page).status_code == 302


def test_a_pin_does_not_open_what_takes_a_password(cast: Cast, tablet: Client) -> None:
    set_pin(person=cast.head_person, pin="4831", by=None)
    tablet.post(reverse("tablet-pin", args=(cast.head_person.pk,)), {"pin": "4831"})
    assert tablet.get(reverse("cars")).status_code == 200
    for address in (
        reverse("people"),
        reverse("own-account"),
        reverse("tablets"),
        reverse("car-owner", args=(cast.car.slug,)),
    ):
        assert tablet.get(address).status_code == 403


def test_pins_are_not_guessed(cast: Cast, tablet: Client, trimmer: Person) -> None:
    set_pin(person=trimmer, pin="4831", by=None)
    enter = reverse("tablet-pin", args=(trimmer.pk,))
    answers = [tablet.post(enter, {"pin": f"000{n}"}).status_code for n in range(6)]
    assert answers == [422] * 5 + [429]
    assert tablet.post(enter, {"pin": "4831"}).status_code == 429
    assert tablet.get(reverse("cars")).status_code == 302


def test_a_lost_tablet_signs_out_who_is_there(cast: Cast, tablet: Client, trimmer: Person) -> None:
    set_pin(person=trimmer, pin="4831", by=None)
    tablet.post(reverse("tablet-pin", args=(trimmer.pk,)), {"pin": "4831"})
    withdraw = reverse("withdraw-tablet", args=(Tablet.objects.get().pk,))
    cast.head.post(withdraw, {"reason": "lost"})
    answer = tablet.get(reverse("cars"), follow=True)
    assert "Who is here?" not in text(answer)
    assert answer.redirect_chain[-1][0].startswith(reverse("sign-in"))
    assert cast.craft.get(reverse("cars")).status_code == 200


def test_the_password_still_works_at_a_tablet(cast: Cast, tablet: Client) -> None:
    address = f"{reverse('sign-in')}?password=1"
    assert "Password" in text(tablet.get(address))
    tablet.post(reverse("sign-in"), {"username": "head", "password": PASSWORD})
    assert tablet.get(reverse("people")).status_code == 200


def test_the_head_releases_and_closes_a_room(cast: Cast) -> None:
    address, survey = (reverse(n, args=(cast.car.slug,)) for n in ("car-owner", "survey"))
    no_reason = cast.head.post(address, {"step": "withdraw", "room": "survey", "reason": ""})
    assert no_reason.status_code == 422
    assert cast.owner.get(survey).status_code == 200
    cast.head.post(address, {"step": "withdraw", "room": "survey", "reason": "not ready"})
    assert cast.owner.get(survey).status_code == 403
    page = text(cast.head.get(address))
    assert "not ready" in page
    cast.head.post(address, {"step": "release", "room": "survey"})
    assert cast.owner.get(survey).status_code == 200
    assert "by head" in text(cast.head.get(address))
    assert cast.head.post(address, {"step": "release", "room": "kitchen"}).status_code == 422


def test_the_car_is_opened_to_an_owner_and_closed(cast: Cast) -> None:
    address = reverse("car-owner", args=(cast.car.slug,))
    assert cast.head.post(address, {"step": "grant", "owner": "trimmer"}).status_code == 422
    cast.head.post(address, {"step": "grant", "owner": "stranger"})
    assert cast.stranger.get(reverse("car", args=(cast.car.slug,))).status_code == 200
    whose = Person.objects.get(user__username="stranger")
    close = {"step": "close", "owner": whose.pk, "reason": "sold"}
    assert cast.head.post(address, close | {"reason": ""}).status_code == 422
    cast.head.post(address, close)
    assert cast.stranger.get(reverse("car", args=(cast.car.slug,))).status_code == 404
    assert cast.head.post(address, close | {"owner": "x"}).status_code == 404


def test_no_page_of_people_is_asked_for_much(cast: Cast, django_assert_max_num_queries) -> None:
    with django_assert_max_num_queries(10):
        cast.head.get(reverse("people"))
    with django_assert_max_num_queries(12):
        cast.head.get(reverse("car-owner", args=(cast.car.slug,)))
