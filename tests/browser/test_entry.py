"""Entering at the car: which spot a number goes to, and what a dead network does to it."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page, Request, Route, expect
from tests.browser.conftest import PHONE, become, messages_lost, tap_on

from asfound.record.models import Car, FilmReading

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def open_panel(page: Page, live_server: Any, car: Car) -> Callable[[str], None]:
    """Sign in on a phone and open a panel."""

    def go(panel: str) -> None:
        become(page, live_server, "trimmer", PHONE)
        page.goto(live_server.url + reverse("panel", args=(car.slug, panel)))

    return go


def tap(page: Page, across: float, down: float) -> None:
    tap_on(page.locator("[data-panel-figure] svg"), across, down)


def type_numbers(page: Page, *numbers: str) -> None:
    for number in numbers:
        page.keyboard.type(number)
        page.keyboard.press("Enter")


def kept(panel: str) -> list[tuple[str, float]]:
    return sorted((r.spot, r.thickness_um) for r in FilmReading.objects.filter(panel=panel))


def test_a_fourth_number_is_asked_about_and_goes_to_the_spot_before(
    page: Page, open_panel: Callable[[str], None], assert_accessible: Callable[[Page], None]
) -> None:
    open_panel("scuttle")
    line = page.locator("[data-spot-line]")
    expect(line).to_have_text("Tap the place of the first spot.")
    tap(page, 0.3, 0.4)
    expect(line).to_have_text(re.compile(r"^New spot at \d+, \d+ mm$"))
    type_numbers(page, "480", "483", "481")
    expect(line).to_contain_text("Spot 1 is done. Tap the next place.")
    type_numbers(page, "495")
    expect(line).to_contain_text("495 µm: which spot?")
    assert_accessible(page)
    answer = line.get_by_role("button", name="One more on spot 1")
    box = answer.bounding_box()
    assert box is not None
    assert box["height"] >= THUMB_PX
    answer.click()
    expect(line).to_have_text("One more on spot 1")
    expect(page.get_by_label("4th µm")).to_have_value("495")
    page.get_by_label("4th µm").press("Enter")
    expect(page.locator("[data-unsent-said]")).to_have_text("Spot 1: 1 more reading kept.")
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483), ("1", 495)]
    expect(page.get_by_role("rowheader", name="1", exact=True)).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


def test_a_number_typed_before_the_tap_is_said_to_go_to_the_new_place(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    open_panel("scuttle")
    line = page.locator("[data-spot-line]")
    tap(page, 0.3, 0.4)
    type_numbers(page, "480", "483", "481")
    expect(page.locator("[data-unsent-said]")).to_contain_text("Spot 1: 3 readings kept.")
    type_numbers(page, "495")
    tap(page, 0.7, 0.4)
    expect(line).to_contain_text(re.compile(r"New spot at .* takes 495 µm, typed before the tap"))
    expect(page.get_by_label("2nd µm")).to_be_focused()
    type_numbers(page, "496", "497")
    expect(page.locator("[data-unsent-said]")).to_contain_text("Spot 2: 3 readings kept.")
    assert [n for spot, n in kept("scuttle") if spot == "2"] == [495, 496, 497]


def test_numbers_without_a_place_are_never_sent(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    open_panel("scuttle")
    page.get_by_label("1st µm").focus()
    type_numbers(page, "480", "483", "481")
    expect(page.locator("[data-spot-line]")).to_contain_text("480, 483, 481 µm: which spot?")
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    tap(page, 0.3, 0.4)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-unsent-said]")).to_contain_text("Spot 1: 3 readings kept.")


def test_one_more_without_a_network_goes_to_the_spot_that_waits(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    open_panel("scuttle")
    page.context.set_offline(True)
    tap(page, 0.3, 0.4)
    type_numbers(page, "480", "483", "481")
    page.get_by_role("button", name=re.compile("^One more on the spot at")).click()
    type_numbers(page, "482")
    tap(page, 0.7, 0.4)
    type_numbers(page, "490", "491", "492")
    waiting = page.locator("[data-unsent-list] li")
    expect(waiting).to_have_count(3)
    expect(waiting.nth(1)).to_contain_text("482 µm, one more at")
    page.context.set_offline(False)
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert kept("scuttle") == [
        ("1", 480),
        ("1", 481),
        ("1", 482),
        ("1", 483),
        ("2", 490),
        ("2", 491),
        ("2", 492),
    ]


def test_every_panel_opens_and_takes_readings_without_a_network(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    open_panel("scuttle")
    told = page.get_by_text(re.compile(r"^\d+ panels are on this device"))
    expect(told).to_be_visible(timeout=20_000)
    page.context.set_offline(True)
    tap(page, 0.3, 0.4)
    type_numbers(page, "480", "483", "481")
    page.reload()
    expect(page.get_by_text("this page is from this device")).to_be_visible()
    expect(page.locator("[data-unsent-list] li")).to_have_count(1)
    page.locator(".panel-trail [data-ahead]").first.click()
    expect(page.get_by_text("this page is from this device")).to_be_visible()
    panel = page.locator("[data-entry]").get_attribute("data-panel")
    assert panel is not None
    assert panel != "scuttle"
    before = kept(panel)
    tap(page, 0.5, 0.5)
    type_numbers(page, "500", "501", "502")
    expect(page.locator("[data-unsent-list] li")).to_have_count(2)
    page.context.set_offline(False)
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]
    new = [number for spot, number in kept(panel) if (spot, number) not in before]
    assert new == [500, 501, 502]


@pytest.mark.parametrize(
    ("typed", "choice", "meant"),
    [("1.234", "1.234 µm", 1.234), ("1,234", "1234 µm", 1234), ("12,345", "12345 µm", 12345)],
)
def test_a_number_that_could_be_thousands_is_asked_back(
    page: Page,
    open_panel: Callable[[str], None],
    assert_accessible: Callable[[Page], None],
    typed: str,
    choice: str,
    meant: float,
) -> None:
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    type_numbers(page, typed)
    line = page.locator("[data-spot-line]")
    expect(line).to_contain_text(f"{typed}: which is meant?")
    expect(page.get_by_label("1st µm")).to_be_focused()
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert_accessible(page)
    line.get_by_role("button", name=choice, exact=True).click()
    expect(page.get_by_label("2nd µm")).to_be_focused()
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-unsent-said]")).to_contain_text("Spot 1: 1 reading kept.")
    assert kept("scuttle") == [("1", meant)]


def test_what_waits_outlives_a_reload_without_a_network_and_is_sent_once(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    """The page itself comes from the device while every message to the workshop is lost."""
    open_panel("scuttle")
    sent: list[str] = []
    page.on(
        "request", lambda asked: sent.append(asked.post_data or "") if _is_spot(asked) else None
    )
    waiting = page.locator("[data-unsent-list]")
    with messages_lost(page):
        tap(page, 0.3, 0.4)
        with page.expect_request(_is_spot):
            type_numbers(page, "480", "483", "481")
        expect(waiting).to_contain_text("Waiting to be sent, scuttle: 480, 483, 481 µm")
        for _ in range(2):
            with page.expect_request(_is_spot):
                page.reload()
            expect(waiting).to_contain_text("Waiting to be sent, scuttle: 480, 483, 481 µm")
        assert not FilmReading.objects.filter(panel="scuttle").exists()
        before = len(sent)
        assert before >= 3, "each opening of the page tries to send"
    expect(waiting).to_be_hidden()
    expect(page.get_by_role("rowheader", name="1", exact=True)).to_be_visible()
    page.reload()
    expect(page.get_by_role("rowheader", name="1", exact=True)).to_be_visible()
    assert len(sent) == before + 1, "it was sent again after it had arrived"
    keys = {re.search(r'name="key"\s+(\w+)', data)[1] for data in sent}  # type: ignore[index]
    assert len(keys) == 1
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_an_answer_that_is_lost_on_its_way_back_makes_no_second_spot(
    page: Page, open_panel: Callable[[str], None]
) -> None:
    open_panel("scuttle")
    arrived: list[int] = []

    def lose_the_answer(route: Route) -> None:
        if _is_spot(route.request) and not arrived:
            arrived.append(route.fetch().status)
            route.abort("connectionreset")
        else:
            route.fallback()

    page.route("**/*", lose_the_answer)
    tap(page, 0.3, 0.4)
    type_numbers(page, "480", "483", "481")
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    expect(page.locator("[data-unsent-said]")).to_have_text("These readings were kept already.")
    assert arrived == [200]
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_the_crosses_are_numbered_anew_after_a_reading(
    page: Page, open_panel: Callable[[str], None], car: Car, live_server: Any
) -> None:
    open_panel("scuttle")
    crosses, links = page.locator(_CROSS), page.locator("a[href*='#entry']")
    expect(crosses.first).to_be_attached()
    before, wanted = _numbers(page), links.first.inner_text()
    assert crosses.count() == len(before) == links.count()
    links.first.click()
    expect(page.locator(".entry-mark")).to_be_visible()
    page.evaluate("window.asFound = 'same page'")
    page.get_by_label("1st µm").focus()
    type_numbers(page, "501", "503", "502")
    expect(page.get_by_role("rowheader", name="1", exact=True)).to_be_visible()
    assert page.evaluate("window.asFound") == "same page", "the fragment alone was fetched"
    after = _numbers(page)
    assert crosses.count() == len(after) == links.count()
    assert wanted not in links.all_inner_texts(), "what was measured is still asked for"
    survey = page.context.new_page()
    survey.goto(live_server.url + reverse("survey", args=(car.slug,)) + "?whole=1")
    ranked = survey.locator(".next-spots b").all_inner_texts()
    assert after == [n for n, panel in enumerate(ranked, start=1) if panel == "scuttle"]
    assert after != before, "no number moved"


_CROSS = "[data-panel-figure] svg path[stroke-width='1.8'][stroke-linecap='round']"


def _numbers(page: Page) -> list[int]:
    """Numbers that stand at the crosses of the figure."""
    told = page.locator("[data-panel-figure] svg text[font-weight='bold']").all_text_contents()
    return sorted(int(text) for text in told)


def _is_spot(asked: Request) -> bool:
    return asked.method == "POST" and "thickness_um" in (asked.post_data or "")
