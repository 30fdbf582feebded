"""What is wider than a phone says so and can be reached by keys; paper shows what is folded."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become

from asfound.record.models import Car

A4_WIDTH_PX = 687
"""210 mm less two margins of 14 mm, at 96 pixels an inch."""

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def open_page(page: Page, live_server: Any, car: Car) -> Callable[[str], None]:
    def go(name: str) -> None:
        become(page, live_server, "head")
        page.goto(live_server.url + reverse(name, args=(car.slug,)))
        expect(page.locator(".waiting")).to_have_count(0)

    return go


@pytest.mark.parametrize(
    ("name", "region"), [("survey", "Unfolded sheet"), ("decisions", "The front")]
)
def test_a_figure_wider_than_the_phone_says_so_and_scrolls_by_keys(
    page: Page,
    open_page: Callable[[str], None],
    assert_accessible: Callable[[Page], None],
    name: str,
    region: str,
) -> None:
    page.set_viewport_size(PHONE)
    open_page(name)
    held = page.get_by_role("group", name=region)
    expect(held).to_have_attribute("data-more", "right")
    expect(page.locator("main .swipe-hint").first).to_be_visible()
    assert "gradient" in held.evaluate("held => getComputedStyle(held).maskImage")
    held.focus()
    page.keyboard.press("ArrowRight")
    expect(held).to_have_attribute("data-more", "left right")
    held.evaluate("held => { held.scrollLeft = held.scrollWidth; }")
    expect(held).to_have_attribute("data-more", "left")
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


def test_a_figure_that_fits_says_nothing(page: Page, open_page: Callable[[str], None]) -> None:
    open_page("survey")
    held = page.get_by_role("group", name="Unfolded sheet")
    expect(held).to_have_attribute("data-more", "")
    expect(page.locator(".swipe-hint").first).to_be_hidden()
    assert held.evaluate("held => getComputedStyle(held).maskImage") == "none"


def test_paper_opens_what_is_folded_and_the_screen_folds_it_again(
    page: Page, open_page: Callable[[str], None]
) -> None:
    open_page("decisions")
    folded = page.locator(".front-figure details")
    table = page.locator(".front-figure table")
    expect(table).to_be_hidden()
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    expect(table).to_be_visible()
    page.emulate_media(media="screen")
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    expect(folded).not_to_have_attribute("open", "")
    expect(table).to_be_hidden()


@pytest.mark.parametrize("name", ["decisions", "survey"])
def test_nothing_is_cut_on_paper(page: Page, open_page: Callable[[str], None], name: str) -> None:
    page.set_viewport_size({"width": A4_WIDTH_PX, "height": 1000})
    open_page(name)
    page.emulate_media(media="print")
    for held in page.locator(".table-hold:visible, .swipe:visible").all():
        inner, outer = held.evaluate("held => [held.scrollWidth, held.clientWidth]")
        assert inner <= outer
        assert held.evaluate("held => getComputedStyle(held).maskImage") == "none"
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= A4_WIDTH_PX
    expect(page.locator(".swipe-hint:visible")).to_have_count(0)


def test_a_thumb_on_a_word_over_a_panel_opens_the_panel(
    page: Page, at: Callable[..., None]
) -> None:
    at("survey")
    word = page.locator(".survey-sheet svg text.remark").first
    word.scroll_into_view_if_needed()
    box = word.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(page.locator("[data-panel-figure]")).to_be_visible()


def test_the_room_that_is_open_is_in_sight_on_a_phone(page: Page, at: Callable[..., None]) -> None:
    at("log")
    expect(page.locator(".rooms [aria-current]")).to_be_in_viewport(ratio=0.95)


TOO_LOW = """
[...document.querySelectorAll(
  "main :is(th, td, dd, h2, h3, figcaption, .trail) > a, main :is(button, select, summary)")]
  .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 43.5)
  .map((one) => one.outerHTML)
"""
PUSHED = """
[...document.querySelectorAll("main .table-hold")]
  .filter((held) => held.scrollWidth > held.clientWidth + 1)
  .map((held) => held.getAttribute("aria-label"))
"""


@pytest.mark.parametrize("name", ["survey", "ledger-steps", "history"])
def test_on_a_phone_what_is_touched_is_as_high_as_a_thumb_and_no_table_is_pushed_sideways(
    page: Page, open_page: Callable[[str], None], name: str
) -> None:
    page.set_viewport_size(PHONE)
    open_page(name)
    assert page.evaluate(TOO_LOW) == []
    assert page.evaluate(PUSHED) == []


def test_a_part_that_is_out_keeps_its_name_on_a_phone(
    page: Page, open_page: Callable[[str], None], car: Car
) -> None:
    car.parts.create(
        position=90,
        part="H7",
        name="headlamp rims",
        place="the plating works, for three weeks more",
    )
    page.set_viewport_size(PHONE)
    open_page("parts")
    name = page.locator(".part-line", has_text="H7").locator(".index-name")
    box = name.bounding_box()
    assert box is not None
    assert box["width"] > PHONE["width"] / 4
