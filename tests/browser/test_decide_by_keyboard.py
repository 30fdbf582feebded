"""The decisions by pointer and by keyboard alone: rows and panels mark each other."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import DESK, PASSWORD, become

from asfound.record.actions import create_account, grant_owner, release_room
from asfound.record.models import Car, Decision, Proposal, Signature
from asfound.record.models.release import OwnersRoom

pytestmark = pytest.mark.django_db(transaction=True)
MOST_STEPS = 120


@pytest.fixture
def car(car: Car) -> Car:
    """The door's finish lies on the left door; the seats are on no panel."""
    piece = car.subjects.get(subject="door finish")
    piece.extra = {**piece.extra, "panel": "door left"}
    piece.save(update_fields=["extra"])
    car.heads = {**car.heads, "subjects": [*car.heads["subjects"], "panel"]}
    car.save(update_fields=["heads"])
    owner = create_account(username="owner", role="owner", password=PASSWORD, by=None)
    grant_owner(car=car, owner=owner, by=None)
    release_room(car=car, room=OwnersRoom.DECISIONS, by=None)
    return car


def tab_to(page: Page, target: Locator) -> None:
    """Press Tab until the target has the focus, as somebody without a pointer must."""
    expect(target).to_be_visible()
    for _ in range(MOST_STEPS):
        page.keyboard.press("Tab")
        if target.evaluate("one => one === document.activeElement"):
            return
    raise AssertionError(f"{target} is not reached by keyboard in {MOST_STEPS} steps")


def test_rows_and_panels_mark_each_other_by_pointer_and_by_keyboard(
    page: Page, live_server, car: Car, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "head", DESK)
    page.goto(live_server.url + reverse("decisions", args=(car.slug,)))
    panel = page.locator(".small-sheet a[data-panel='door left']")
    row = page.locator("tr[data-panel='door left']")
    expect(panel).to_be_visible()
    row.hover()
    expect(panel).to_have_class("marked")
    page.locator("h1").hover()
    expect(panel).not_to_have_class("marked")
    panel.hover()
    expect(row).to_have_class("marked")
    page.locator("h1").hover()
    expect(row).not_to_have_class("marked")
    tab_to(page, panel)
    expect(row).to_have_class("marked")
    assert_accessible(page)
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("#row-door-finish$"))
    tab_to(page, row.get_by_role("link").first)
    expect(panel).to_have_class("marked")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="door finish")).to_be_visible()
    assert_accessible(page)


def test_from_the_brief_to_the_signature_without_a_pointer(
    page: Page, live_server, car: Car
) -> None:
    become(page, live_server, "head", DESK)
    page.goto(live_server.url + reverse("decisions", args=(car.slug,)))
    tab_to(page, page.get_by_role("link", name="Move a limit"))
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_label("Cost at most"))
    page.keyboard.press("Control+A")
    page.keyboard.type("1200")
    tab_to(page, page.get_by_role("button", name="Keep this brief"))
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_role("link", name="brakes").first)
    page.keyboard.press("Enter")
    card = page.locator(".option-card", has_text="replace with new")
    tab_to(page, page.locator("input[type=radio][name=option]").first)
    for _ in range(6):
        if card.get_by_role("radio").is_checked():
            break
        page.keyboard.press("ArrowDown")
    tab_to(page, page.get_by_label("Why", exact=True))
    page.keyboard.type("a drum is cracked")
    tab_to(page, page.get_by_role("button", name="Lock with this reason"))
    page.keyboard.press("Enter")
    expect(page.get_by_text("a drum is cracked").first).to_be_visible()
    assert Decision.objects.get().option == "renew"
    page.goto(live_server.url + reverse("variants", args=(car.slug,)))
    tab_to(page, page.get_by_label("Name"))
    page.keyboard.type("spare the purse")
    tab_to(page, page.get_by_label("With another limit of cost"))
    page.keyboard.type("1100")
    tab_to(page, page.get_by_role("button", name="Choose and keep"))
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_role("link", name="spare the purse").first)
    page.goto(live_server.url + reverse("new-proposal", args=(car.slug,)))
    tab_to(page, page.get_by_label("Title"))
    page.keyboard.press("Control+A")
    page.keyboard.type("Keep it going")
    tab_to(page, page.get_by_role("button", name="Send it to the owner"))
    page.keyboard.press("Enter")
    expect(page.get_by_text("waits for the owner")).to_be_visible()
    assert Proposal.objects.get().title == "Keep it going"
    become(page, live_server, "owner", DESK)
    page.goto(live_server.url + reverse("proposal", args=(car.slug, 1)))
    tab_to(page, page.get_by_label("Your full name"))
    page.keyboard.type("Ada Invented")
    tab_to(page, page.get_by_role("button", name="Sign this"))
    page.keyboard.press("Enter")
    expect(page.get_by_text("by the account owner")).to_be_visible()
    assert Signature.objects.count() == 1
