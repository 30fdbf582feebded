"""The order of stripping of a large car, looked at with keys, a pointer and a phone."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from benchmarks.strip_car import strip_car
from django.core.cache import cache
from playwright.sync_api import Page, expect

from asfound.record.actions import create_account, load_car
from asfound.record.models import Car

PASSWORD = "walnut-veneer-41"
DESK = {"width": 1280, "height": 800}

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(transactional_db: None) -> Car:
    cache.clear()
    create_account(username="trimmer", role="craftsperson", password=PASSWORD, by=None)
    return load_car(folder=strip_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]


def width_of(page: Page) -> float:
    return page.locator("svg.strip-order").evaluate("s => s.getBoundingClientRect().width")


def test_350_pieces_are_read_at_the_desk_and_on_a_phone(
    page: Page, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    at("strip")
    page.set_viewport_size(DESK)
    page.locator("svg.strip-order").get_by_role("link", name="engine").click()
    drawing = page.get_by_role("group", name="What holds or hides what").first
    before = width_of(page)
    drawing.focus()
    page.keyboard.press("+")
    assert width_of(page) == pytest.approx(1.2 * before, rel=0.01)
    page.get_by_role("button", name="Whole").click()
    assert width_of(page) <= drawing.evaluate("d => d.clientWidth") + 1
    page.get_by_role("button", name="1 : 1").click()
    drawing.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.querySelector('.strip-wide .swipe').scrollLeft > 0")
    page.get_by_label("A piece to reach").fill("camsh")
    found = page.locator("svg.strip-order a.is-found")
    expect(found).to_have_text("CamshaftCamshaft")
    expect(found).to_be_in_viewport()
    assert_accessible(page)
    found.click()
    expect(page.get_by_role("heading", name="To reach Camshaft")).to_be_visible()

    page.set_viewport_size({"width": 360, "height": 740})
    page.get_by_role("link", name="What comes off first").first.click()
    expect(page.locator("svg.strip-order")).to_be_hidden()
    page.get_by_text("Engine 9 now, 43 in all").click()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_role("link", name="Camshaft").click()
    expect(page.get_by_role("heading", name="To reach Camshaft")).to_be_visible()
    assert_accessible(page)
