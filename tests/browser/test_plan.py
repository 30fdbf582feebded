"""Journeys of the plan: made, looked at, made again when somebody is away; the way to a piece."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import become
from tests.pages.test_plan_pages import JOINTS, LINKS, PEOPLE, TASKS

from asfound.record.actions import set_sheet
from asfound.record.models import Car

SIZES = [{"width": 360, "height": 740}, {"width": 1280, "height": 800}]

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    for table, rows in (
        ("tasks", TASKS),
        ("task_links", LINKS),
        ("people", PEOPLE),
        ("joints", JOINTS),
    ):
        set_sheet(car=car, table=table, rows=rows, by=None)
    return car


@pytest.fixture
def go(page: Page, live_server, car: Car) -> Callable[[str], None]:
    become(page, live_server, "head")
    return lambda path: page.goto(live_server.url + path) and None


def test_the_head_plans_and_plans_again_when_the_painter_is_away(
    car: Car, go, page: Page, assert_accessible
) -> None:
    go(reverse("plan", args=(car.slug,)))
    expect(page.get_by_role("heading", name="The promise")).to_be_visible()
    expect(page.get_by_role("row", name="paint")).to_contain_text("Tue 3 Mar 08:00")
    page.get_by_role("link", name="paint, ").first.click()
    expect(page.get_by_text("what paint waits for")).to_be_visible()
    for size in SIZES:
        page.set_viewport_size(size)
        assert_accessible(page)
    page.get_by_role("link", name="People and their hours").click()
    page.get_by_label("away").nth(1).fill("2026-03-03/2026-03-06")
    page.get_by_role("button", name="Keep").first.click()
    expect(page.get_by_role("row", name="paint")).to_contain_text("Mon 9 Mar 08:00")


def test_the_way_to_a_piece_is_found_on_the_graph(
    car: Car, go, page: Page, assert_accessible
) -> None:
    go(reverse("strip", args=(car.slug,)))
    page.get_by_role("link", name="heater", exact=False).first.click()
    expect(page.get_by_role("heading", name="To reach heater")).to_be_visible()
    for size in SIZES:
        page.set_viewport_size(size)
        assert_accessible(page)
