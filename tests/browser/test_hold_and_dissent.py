"""A brief from a charter's term, grades, a dissent, and work that holds what was begun."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE, become, follow
from tests.browser.test_decide_and_sign import car, fits, go, propose, sign

from asfound.record.actions import add_observations
from asfound.record.models import Car

__all__ = ["car", "go"]

pytestmark = pytest.mark.django_db(transaction=True)
SEWING = {"task": "S1", "subject": "seats", "person": "Issy", "from_at": "2026-11-25T08:00:00Z"}


def test_a_preset_is_seen_filled_in_changed_and_kept(
    page: Page, live_server, car: Car, go, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "head", DESK)
    go("edit-brief")
    page.get_by_role("link", name="See what it fills in : conserve").press("Enter")
    expect(page.get_by_role("heading", name="Conserve would fill in")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("link", name="Fill these in").press("Enter")
    expect(page.get_by_label("refinish", exact=True)).to_be_checked()
    expect(page.get_by_label("Cost at most")).to_have_value("1150")
    page.get_by_label("refinish", exact=True).uncheck()
    page.get_by_role("group", name="Must not be touched").get_by_label("inside").check()
    page.set_viewport_size(PHONE)
    assert fits(page)
    page.get_by_role("button", name="Keep this brief").click()
    expect(page.get_by_text("Must not be touched: inside")).to_be_visible()
    assert "refinish" not in car.briefs.last().content["needs_evidence"]


def test_grades_a_dissent_and_what_was_begun(
    page: Page, live_server, car: Car, go, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "head", DESK)
    go("grade-piece", "seats")
    page.get_by_label("Grade, historic").select_option("exceptional")
    page.get_by_label("Why, historic").fill("the first hide")
    page.get_by_label("Weight typed by hand").fill("")
    assert_accessible(page)
    page.get_by_role("button", name="Keep these grades").click()
    expect(page.get_by_text("Weight (1 × 5) / (1) = 5.")).to_be_visible()
    go("significance")
    assert_accessible(page)
    go("piece", "seats")
    page.locator(".option-card", has_text="repair").get_by_role("radio").check()
    page.get_by_label("Why", exact=True).fill("the hide is the first one")
    page.get_by_role("button", name="Lock with this reason").click()
    expect(page.get_by_role("heading", name="Pieces")).to_be_visible()

    become(page, live_server, "trimmer", PHONE)
    go("piece", "seats")
    page.get_by_text("I would decide otherwise").click()
    page.get_by_label("What you would do, and why").fill("The foam is gone.")
    page.get_by_role("button", name="Keep my dissent").click()
    expect(page.get_by_text("would decide otherwise: “The foam is gone.”").first).to_be_visible()
    assert fits(page)
    assert_accessible(page)

    become(page, live_server, "head", DESK)
    propose(page, go, "Keep it going")
    become(page, live_server, "owner", PHONE)
    go("proposal", 1)
    expect(page.get_by_text("“The foam is gone.”")).to_be_visible()
    sign(page)

    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    become(page, live_server, "head", DESK)
    go("piece", "seats")
    expect(page.get_by_role("heading", name="Held: mend")).to_be_visible()
    assert_accessible(page)
    page.get_by_label("Change it by a change order to").select_option("renew")
    page.get_by_role("button", name="See what it would change").click()
    expect(page.get_by_text("the rest of the car is chosen around that")).to_be_visible()
    assert_accessible(page)
    follow(page.get_by_role("link", name="Leave it as it stands"))
    go("piece", "seats")
    page.get_by_role("link", name="What was written down").click()
    expect(page.get_by_text("Issy, since")).to_be_visible()
