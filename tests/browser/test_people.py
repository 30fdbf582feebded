"""A shared tablet from hand to hand, an invitation, and a room released, in a browser."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PASSWORD, PHONE, follow

from asfound.record.actions import create_account, grant_owner, set_pin
from asfound.record.models import Car, Entry, Person

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    owner = create_account(username="owner", role="owner", password=PASSWORD, by=None)
    set_pin(person=Person.objects.get(user__username="trimmer"), pin="4831", by=None)
    grant_owner(car=car, owner=owner, by=None)
    return car


def sign_in(page: Page, live_server, name: str) -> None:
    page.goto(f"{live_server.url}{reverse('sign-in')}?password=1")
    page.get_by_label("Username").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Cars", exact=True)).to_be_visible()


def fits(page: Page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_tablet_goes_from_hand_to_hand(
    page: Page, live_server, car: Car, assert_accessible: Callable[[Page], None]
) -> None:
    page.set_viewport_size(PHONE)
    sign_in(page, live_server, "head")
    page.goto(live_server.url + reverse("tablets"))
    page.get_by_label("Name of this tablet").fill("trim shop")
    follow(page.get_by_role("button", name="Make it a shared tablet"))
    assert_accessible(page)
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Who is here?")).to_be_visible()
    assert_accessible(page)
    follow(page.get_by_role("link", name="trimmer"))
    assert_accessible(page)
    page.get_by_label("PIN").fill("4831")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Switch person")).to_be_visible()
    reading = car.film_readings.first()
    page.goto(live_server.url + reverse("correct", args=(car.slug, reading.pk)))
    page.locator("#withdraw_reason").fill("stood on a seam")
    follow(page.get_by_role("button", name="Withdraw it"))
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("counts again")).to_be_visible()
    assert [line.who for line in Entry.objects.order_by("-pk")[:2]] == ["trimmer", "trimmer"]
    page.get_by_role("button", name="Switch person").click()
    expect(page.get_by_role("heading", name="Who is here?")).to_be_visible()
    assert fits(page)


def test_the_head_invites_releases_and_reads_the_log(
    page: Page, live_server, car: Car, assert_accessible: Callable[[Page], None]
) -> None:
    page.set_viewport_size(PHONE)
    sign_in(page, live_server, "head")
    page.goto(f"{live_server.url}{reverse('invitations')}?car={car.slug}")
    page.get_by_label("For whom").fill("the second owner")
    page.get_by_role("button", name="Make the link").click()
    link = page.locator(".link-out").input_value()
    assert_accessible(page)
    page.goto(live_server.url + reverse("car-owner", args=(car.slug,)))
    page.get_by_role("button", name="Release survey").click()
    expect(page.get_by_text("the owner sees it from now on")).to_be_visible()
    assert_accessible(page)
    assert fits(page)
    for name, rest in (("people", ()), ("log", (car.slug,))):
        page.goto(live_server.url + reverse(name, args=rest))
        assert_accessible(page)
        assert fits(page)
    follow(page.get_by_role("button", name="Sign out"))
    page.goto(link)
    page.get_by_label("Name to sign in with").fill("ada")
    page.get_by_label("Password", exact=True).fill("walnut-burr-nine")
    page.get_by_label("The password again").fill("walnut-burr-nine")
    assert_accessible(page)
    follow(page.get_by_role("button", name="Make my account"))
    page.goto(live_server.url + reverse("car", args=(car.slug,)))
    rooms = page.get_by_role("navigation", name="Rooms of this car")
    expect(rooms.get_by_role("link", name="Survey")).to_be_visible()
    expect(rooms.get_by_role("link", name="Decisions")).to_have_count(0)
    page.goto(live_server.url + reverse("survey", args=(car.slug,)))
    expect(page.get_by_role("heading", level=1)).to_be_visible()
