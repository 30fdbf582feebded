"""Monday morning: the head plans three cars, and plans again after a late plater."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect
from tests.browser.conftest import PASSWORD, become, follow
from tests.pages.small_car import small_car
from tests.pages.test_plan_pages import LINKS, PEOPLE, TASKS

from asfound.record.actions import create_account, load_car, set_sheet
from asfound.record.models import ShopPlan

SIZES = [{"width": 360, "height": 740}, {"width": 1280, "height": 800}]

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def cars(transactional_db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    cache.clear()
    monkeypatch.setattr("asfound.record.shop_made.WORK_S", 1.0)
    create_account(username="head", role="head", password=PASSWORD, by=None)
    tasks = [{**row, "earliest": ""} for row in TASKS]
    for slug in ("grey", "green", "red"):
        car = load_car(folder=small_car(), by=None, slug=slug)
        for table, rows in (("tasks", tasks), ("task_links", LINKS), ("people", PEOPLE)):
            set_sheet(car=car, table=table, rows=rows, by=None)


@pytest.fixture
def go(page: Page, live_server, cars: None) -> Callable[[str], None]:
    become(page, live_server, "head")
    return lambda path: page.goto(live_server.url + path) and None


def test_monday_morning(cars: None, go, page: Page, assert_accessible) -> None:
    go(reverse("shop"))
    page.get_by_label("Priority").nth(2).fill("3")
    page.get_by_role("button", name="Keep").nth(2).click()
    expect(page.get_by_text("Kept: ")).to_be_visible()
    page.get_by_role("button", name="Make a new plan").click()
    page.get_by_role("link", name="See what it moves").click(timeout=60_000)
    page.get_by_role("button", name="Adopt this plan").click()
    expect(page.get_by_text("Cards, wall and calendars follow it")).to_be_visible()
    follow(page.get_by_role("link", name="by car"))
    page.get_by_role("link", name="paint").first.click()
    expect(page.get_by_text("what paint waits for")).to_be_visible()
    for size in SIZES:
        page.set_viewport_size(size)
        assert_accessible(page)

    follow(page.get_by_role("link", name="Something came between"))
    assert_accessible(page)
    page.get_by_label("What is late").fill("The plater")
    page.locator("#late_task").select_option("red/hang")
    later = timezone.localdate() + timedelta(days=40)
    page.get_by_label("Not before").fill(f"{later}")
    page.get_by_role("button", name="Enter it and plan anew because something comes late").click()
    page.get_by_role("link", name="See what it moves").click(timeout=60_000)
    expect(page.get_by_role("heading", name="1 task moves")).to_be_visible()
    expect(page.get_by_text("The plater: Job hang (hang) of").first).to_be_visible()
    expect(page.get_by_text("later").first).to_be_visible()
    for size in SIZES:
        page.set_viewport_size(size)
        assert_accessible(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    assert ShopPlan.objects.count() == 1
    page.get_by_role("button", name="Adopt this plan").click()
    expect(page.get_by_text("Cards, wall and calendars follow it")).to_be_visible()
    assert ShopPlan.objects.count() == 2

    page.get_by_role("link", name="Wall screen").click()
    expect(page.get_by_text("planned for").first).to_be_visible()
    expect(page.get_by_role("alert")).to_be_hidden()
    assert_accessible(page)
    page.context.set_offline(True)
    expect(page.get_by_role("alert")).to_contain_text("Not fresh")
    page.context.set_offline(False)
