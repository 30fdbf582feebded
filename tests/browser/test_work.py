"""A trimmer's day on a phone: begin, find something, write down material and result, be done."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PASSWORD, PHONE, become
from tests.unit.record.test_worked import PEOPLE, TASKS

from asfound.record.actions import create_account, lock_option, set_sheet
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    create_account(username="issy", role="craftsperson", password=PASSWORD, by=None)
    for table, rows in (("tasks", TASKS), ("people", PEOPLE)):
        set_sheet(car=car, table=table, rows=rows, by=None)
    lock_option(car=car, subject="seats", option="mend", reason="they hold", by=None)
    lock_option(car=car, subject="door finish", option="keep", reason="as it is", by=None)
    return car


@pytest.fixture
def go(page: Page, live_server, car: Car) -> Callable[[str], None]:
    become(page, live_server, "issy", PHONE)
    return lambda path: page.goto(live_server.url + path) and None


def test_a_trimmers_day_on_a_phone(
    car: Car, go, page: Page, assert_accessible, tmp_path: Path
) -> None:
    Image.new("RGB", (64, 48), (120, 90, 60)).save(tmp_path / "before.jpg")
    Image.new("RGB", (64, 48), (140, 110, 80)).save(tmp_path / "after.jpg")
    go("/")
    page.get_by_role("link", name="Today's cards").click()
    expect(page.get_by_text("Issy Corrand, ")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("link", name="Re-sew the seats").click()
    here = page.url

    page.get_by_label("photograph").set_input_files(tmp_path / "before.jpg")
    tick = page.get_by_label("I have read the cautions")
    if tick.count():
        tick.check()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", name="Your time runs")).to_be_visible()

    page.get_by_text("Material used").click()
    page.get_by_label("material", exact=True).fill("linen thread")
    page.get_by_label("batch").fill("L 77")
    page.get_by_role("button", name="Keep the material").click()
    expect(page.get_by_text("linen thread, batch L 77").first).to_be_visible()
    page.get_by_text("Result measured").click()
    page.get_by_label("what was measured").fill("depth")
    page.get_by_label("value").fill("3.5")
    page.locator("#result_unit").fill("mm")
    page.get_by_label("with which tool").fill("rule 2")
    for size in (PHONE, DESK):
        page.set_viewport_size(size)
        assert_accessible(page)
    page.set_viewport_size(PHONE)
    page.get_by_role("button", name="Keep the result").click()
    expect(page.get_by_text("depth 3.5 mm, with rule 2").first).to_be_visible()

    page.get_by_role("link", name="I found something").click()
    expect(page).to_have_url(re.compile("findings/add"))
    page.goto(here)
    page.get_by_role("button", name="Pause").click()
    expect(page.get_by_role("heading", name="Paused")).to_be_visible()
    page.get_by_role("button", name="Go on").click()
    page.get_by_label("photograph").set_input_files(tmp_path / "after.jpg")
    page.get_by_role("button", name="It is done").click()
    expect(page.get_by_text("Re-sew the seats is done.")).to_be_visible()
    expect(page.get_by_role("link", name="Re-sew the seats")).to_have_count(0)

    page.goto(here)
    page.get_by_role("link", name="seats", exact=True).click()
    expect(page.get_by_role("heading", name="Treatment of seats")).to_be_visible()
    expect(page.get_by_role("img", name="seats: whole, after")).to_be_visible()
    assert_accessible(page)
    go(reverse("work", args=(car.slug,)))
    expect(page.get_by_text("1 of 3 tasks done")).to_be_visible()
    assert_accessible(page)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= PHONE["width"]
