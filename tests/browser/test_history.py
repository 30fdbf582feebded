"""A clash looked at without one of its statements, doubted on a phone, and gone."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE

from asfound.record.actions import set_sheet
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    link = {"min": "0", "unit": "day"}
    events = [
        {"event": "pigment first sold", "not_before": "1978", "not_after": "1978"},
        {"event": "wing painted", "subject": "left front wing"},
        {"event": "letter praises the wing", "not_before": "1975-06", "not_after": "1975-06"},
    ]
    links = [
        {"id": "k1", "from": "pigment first sold", "to": "wing painted", **link},
        {"id": "k2", "from": "wing painted", "to": "letter praises the wing", **link},
    ]
    set_sheet(car=car, table="events", rows=events, by=None)
    set_sheet(car=car, table="event_links", rows=links, by=None)
    return car


def no_sideways(page: Page) -> None:
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= page.viewport_size["width"]  # type: ignore[index]


def test_a_clash_is_looked_at_doubted_and_gone(
    page: Page, at: Callable[..., None], assert_accessible
) -> None:
    at("history")
    assert_accessible(page)
    no_sideways(page)
    clash = page.get_by_role("article", name="Clash 1")
    expect(clash).to_contain_text("letter praises the wing is not before wing painted")
    clash.get_by_role(
        "link", name=re.compile("Look without it.*is not before wing painted")
    ).click()
    expect(page.get_by_text("The rest can hold together.")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("link", name="Doubt or withdraw it").click()
    expect(page.get_by_text("1 clash with it, none without it.")).to_be_visible()
    assert_accessible(page)
    no_sideways(page)
    page.get_by_label("It is doubted").check()
    page.get_by_label("Why").fill("it may speak of the other wing")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("all of it can hold together")).to_be_visible()
    expect(page.get_by_text("(doubted: it may speak of the other wing)")).to_be_visible()


def test_an_event_on_the_timeline_shows_its_links(
    page: Page, at: Callable[..., None], assert_accessible
) -> None:
    for viewport in (PHONE, DESK):
        page.set_viewport_size(viewport)
        at("history")
        page.locator("svg.timeline:visible").get_by_label("Links of wing painted").click()
        expect(page.get_by_role("heading", name="Wing painted")).to_be_visible()
        assert page.locator("svg.timeline:visible").get_by_text("k1").is_visible()
        assert_accessible(page)


def test_an_event_is_written_and_tied_by_keyboard(page: Page, at: Callable[..., None]) -> None:
    at("add-event")
    page.get_by_label("What happened").fill("wing flatted")
    page.get_by_label("Not after").fill("1990~")
    page.keyboard.press("Enter")
    expect(page.get_by_role("link", name="wing flatted", exact=True)).to_be_visible()
    at("add-link")
    page.get_by_label("The later event").select_option("wing flatted")
    page.get_by_label("The earlier event").select_option("wing painted")
    page.get_by_label("How you know").fill("sanding marks in the coat")
    page.get_by_role("button", name="Keep it", exact=True).click()
    expect(page.get_by_text("Kept: k3.")).to_be_visible()
