"""The hard hour in a browser: brief, variants, a proposal, a signature, a change order."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PASSWORD, PHONE, become, follow

from asfound.record.actions import create_account, grant_owner, release_room
from asfound.record.models import Car, Signature
from asfound.record.models.release import OwnersRoom

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    owner = create_account(username="owner", role="owner", password=PASSWORD, by=None)
    grant_owner(car=car, owner=owner, by=None)
    release_room(car=car, room=OwnersRoom.DECISIONS, by=None)
    return car


@pytest.fixture
def go(page: Page, live_server, car: Car) -> Callable[..., None]:
    def open_page(name: str, *rest: object) -> None:
        page.goto(live_server.url + reverse(name, args=(car.slug, *rest)))

    return open_page


def fits(page: Page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def propose(page: Page, go: Callable[..., None], title: str) -> None:
    go("new-proposal")
    page.get_by_label("Title").fill(title)
    page.get_by_label("To the owner").fill("What we would do, and why.")
    page.get_by_role("button", name="Send it to the owner").click()
    expect(page.get_by_text("waits for the owner")).to_be_visible()


def sign(page: Page) -> None:
    page.get_by_label("Your full name").fill("Ada Invented")
    page.get_by_role("button", name="Sign this").press("Enter")
    expect(page.get_by_text("by the account owner")).to_be_visible()


def test_from_the_brief_to_a_signed_change_order(
    page: Page, live_server, car: Car, go, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "head", DESK)
    go("edit-brief")
    page.get_by_label("Cost at most").fill("1200")
    page.get_by_role("button", name="Keep this brief").click()
    expect(page.get_by_role("heading", name="Pieces")).to_be_visible()
    assert_accessible(page)
    go("variants")
    page.get_by_label("Name").fill("spare the purse")
    page.get_by_label("With another limit of cost").fill("1100")
    page.get_by_role("button", name="Choose and keep").click()
    expect(page.get_by_role("link", name="spare the purse")).to_be_visible()
    expect(page.get_by_text("1 of 3 pieces differ")).to_be_visible()
    assert_accessible(page)
    propose(page, go, "Keep it going")
    assert_accessible(page)

    become(page, live_server, "owner", PHONE)
    go("proposal", 1)
    assert fits(page)
    first = page.locator("#piece-1")
    first.get_by_text("Ask or say why").click()
    first.get_by_label("Your words").fill("Will it still smell as it does?")
    first.get_by_role("button", name="Send the question").click()
    expect(page.get_by_text("Will it still smell as it does?")).to_be_visible()
    first.get_by_role("button", name="Do not agree").click()
    expect(page.get_by_text("it must be without a no")).to_be_visible()
    expect(first.get_by_text("Not agreed;")).to_be_visible()
    expect(first.get_by_role("button", name="Agree")).to_be_hidden()
    first.get_by_text("Change the answer, or ask").click()
    expect(first.get_by_role("button", name="Agree")).to_be_visible()
    follow(page.locator("#whole").get_by_role("button", name="Agree to the whole", exact=True))
    assert_accessible(page)
    sign(page)
    assert fits(page)
    assert_accessible(page)

    become(page, live_server, "head", DESK)
    go("piece", "brakes")
    page.get_by_label("Why release it").fill("a drum is cracked")
    follow(page.get_by_role("button", name="Release, let the choice decide"))
    go("piece", "brakes")
    page.locator(".option-card", has_text="replace with new").get_by_role("radio").check()
    page.get_by_label("Why", exact=True).fill("a drum is cracked")
    follow(page.get_by_role("button", name="Lock with this reason"))
    propose(page, go, "A cracked drum")

    become(page, live_server, "owner", PHONE)
    go("proposal", 2)
    expect(page.get_by_role("heading", name="What changes")).to_be_visible()
    expect(page.get_by_text("150 EUR against what was signed")).to_be_visible()
    assert_accessible(page)
    sign(page)
    assert Signature.objects.count() == 2


def test_options_are_changed_and_decisions_tried_at_the_desk(
    page: Page, live_server, car: Car, go, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "head", DESK)
    go("edit-options", "seats")
    assert_accessible(page)
    page.get_by_label("cost, row 2").fill("420")
    follow(page.get_by_role("button", name="Keep the options"))
    expect(page.get_by_role("heading", name="seats")).to_be_visible()
    go("offered-options")
    assert_accessible(page)
    go("decisions")
    walk = page.get_by_label("Walk along the front")
    told = page.get_by_text("other than the choice at")
    for _ in range(20):  # a choice that comes in late draws the front anew
        walk.press("Home")
        if told.is_visible():
            break
        page.wait_for_timeout(250)
    expect(told).to_be_visible()
    expect(page.locator(".front-marker")).to_have_count(1)
    walk.press("End")
    page.get_by_role("button", name="Try them").click()
    expect(page.get_by_text("come out the same in at least 95 % of the draws")).to_be_visible(
        timeout=60_000
    )
    assert_accessible(page)
