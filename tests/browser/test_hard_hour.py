"""The hard hour: a limit is moved, the page says what turns and why a piece may stay; it is signed.

By hand, from test_decisions_pages: within 1150 EUR the brakes are overhauled, within 1100 renewed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE, become, follow
from tests.browser.test_decide_and_sign import car, fits, go, propose, sign
from tests.pages.small_car import small_car

from asfound.record.folder import Sheet
from asfound.record.models import Car

__all__ = ["car", "go"]
pytestmark = pytest.mark.django_db(transaction=True)
COLUMNS = ("kind", "subject", "option", "other_subject", "other_option", "why", "most_grade_step")
WHY = "a bright panel shows beside worn seats"
SEAM = Sheet(columns=COLUMNS, rows=(("seam", "seats", "", "door finish", "", WHY, "1"),))


@pytest.fixture(autouse=True)
def neighbours(monkeypatch: pytest.MonkeyPatch) -> None:
    """The small car, whose seats and door finish meet at a seam."""
    plain = small_car()
    seamed = replace(plain, sheets={**plain.sheets, "option_links": SEAM})
    monkeypatch.setattr("tests.browser.conftest.small_car", lambda: seamed)


def test_a_limit_is_moved_the_reason_seen_and_the_choice_signed(
    page: Page, live_server, car: Car, go: Callable[..., None], assert_accessible
) -> None:
    become(page, live_server, "head", DESK)
    go("decisions")
    expect(page.locator(".tally .figure", has_text="88.3")).to_be_visible()
    follow(page.get_by_role("link", name="Move a limit"))
    page.get_by_label("Cost at most").fill("1100")
    follow(page.get_by_role("button", name="Keep this brief"))
    turned = page.locator("section", has=page.get_by_text("What the last change turned"))
    expect(turned.last).to_contain_text("brakes: overhaul → renew")
    expect(page.get_by_text("of 3 are contested")).to_be_visible()
    assert_accessible(page)
    page.get_by_label("Filter as you type").fill("seats")
    follow(page.locator("#pieces").get_by_role("link", name="seats"))
    why = page.locator("#why")
    expect(why).to_contain_text("door finish (keep), 0 grades apart; at most 1 grade may stand.")
    expect(why).to_contain_text("A bright panel shows beside worn seats.")
    expect(why).to_contain_text("Not beside paint (2 grades).")
    assert_accessible(page)
    propose(page, go, "Within eleven hundred")

    become(page, live_server, "owner", PHONE)
    page.goto(live_server.url)
    follow(page.get_by_role("link", name="Within eleven hundred"))
    follow(page.locator("#whole").get_by_role("button", name="Agree to the whole", exact=True))
    sign(page)
    assert fits(page)
    now = dict(car.decisions.current().values_list("subject", "option"))
    assert now == {"seats": "mend", "brakes": "renew", "door finish": "keep"}
