"""Bands beside a reading, one turned into evidence, a level given with consent: by hand."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE, become, follow

from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_band_is_made_evidence_from_the_map(
    page: Page, car: Car, assert_accessible, live_server, size: dict
) -> None:
    become(page, live_server, "head", size)
    page.goto(live_server.url + reverse("survey", args=(car.slug,)))
    beside = page.locator("#beside")
    expect(beside).to_contain_text("The sources disagree with one another")
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    follow(beside.get_by_role("link", name="Use as evidence: a factory finish, older, when new"))
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    page.get_by_label("Likelihood ratio").fill("0,2")
    page.get_by_label("Why").fill("thicker than that weekly says")
    page.get_by_role("button", name="Enter it as evidence").click()
    expect(beside).to_contain_text("weak support for later work")
    assert_accessible(page)
    beside.get_by_text("Take it back").first.click()
    beside.get_by_label("Why").fill("too bold")
    beside.get_by_role("button", name="Take it back").click()
    expect(beside).to_contain_text("A band below becomes evidence only")


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_the_head_keeps_the_table_and_an_owner_agrees(
    page: Page, car: Car, assert_accessible, live_server, size: dict
) -> None:
    become(page, live_server, "head", size)
    page.goto(live_server.url + reverse("film-bands"))
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    follow(page.get_by_role("link", name="Add a band"))
    assert_accessible(page)
    page.get_by_label("Time or kind").fill("1950s, by hand")
    page.get_by_label("From µm").fill("420")
    page.get_by_label("Source", exact=True).fill("three invented cars")
    page.get_by_role("button", name="Add it").click()
    expect(page.locator("table.bands")).to_contain_text("three invented cars")
    page.goto(live_server.url + reverse("film-base", args=(car.slug,)))
    expect(page.get_by_role("main")).to_contain_text("it rests on no car")
    page.get_by_label("The owner who agreed, by name").fill("Miss Ardel Voss")
    page.get_by_role("button", name="Give it, the owner agreed").click()
    expect(page.get_by_role("main")).to_contain_text("Miss Ardel Voss")
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
