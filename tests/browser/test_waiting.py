"""What waits on a device: ways in which a reading could be lost, doubled or go to another place."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse
from playwright.sync_api import Page, Route, expect
from tests.browser.conftest import PASSWORD, PHONE, become, messages_lost
from tests.browser.test_entry import kept, open_panel, tap, type_numbers  # noqa: F401

from asfound.record.actions import create_account
from asfound.record.models import Car, FilmReading, Observation

pytestmark = pytest.mark.django_db(transaction=True)
LIST, SAID = "[data-unsent-list]", "[data-unsent-said]"
Open = Callable[[str], None]


def enter(page: Page, *numbers: str, across: float = 0.3) -> None:
    tap(page, across, 0.4)
    type_numbers(page, *numbers)


def online(page: Page) -> None:
    page.evaluate("window.dispatchEvent(new Event('online'))")


def answered(page: Page, part_of_address: str, **answer: Any) -> Callable[[], None]:
    """Answers of something else than the record, to what is sent there; gives how to end them."""

    def answer_so(route: Route) -> None:
        if route.request.method == "POST" and part_of_address in route.request.url:
            route.fulfill(**answer)
        else:
            route.fallback()

    page.route("**/*", answer_so)
    return lambda: page.unroute("**/*", answer_so)


NO_WORD_OF_THE_RECORD = [
    {"status": 500, "body": "broken"},
    {"status": 403, "body": "no"},
    {"status": 200, "body": "<h1>Sign in</h1>", "content_type": "text/html"},
    {"status": 200, "body": "{}", "content_type": "application/json"},
    {"status": 200, "body": "null", "content_type": "application/json"},
    {"status": 422, "body": "{}", "content_type": "application/json"},
    {"status": 502, "body": '{"said": "sent"', "content_type": "application/json"},
]


def test_nothing_but_the_records_own_word_takes_a_reading_off_the_device(
    page: Page,
    open_panel: Open,  # noqa: F811
) -> None:
    open_panel("scuttle")
    end = answered(page, "scuttle", **NO_WORD_OF_THE_RECORD[0])
    enter(page, "480", "483", "481")
    waiting = page.locator(LIST)
    expect(waiting).to_contain_text("did not take it yet (500)")
    expect(waiting.get_by_role("button", name="Drop it")).to_be_visible()
    for answer in NO_WORD_OF_THE_RECORD[1:]:
        end()
        end = answered(page, "scuttle", **answer)
        with page.expect_response(
            lambda got: "scuttle" in got.url and "POST" in got.request.method
        ):
            online(page)
        expect(waiting).to_contain_text("Waiting to be sent, scuttle: 480, 483, 481 µm")
        expect(page.locator(SAID)).not_to_contain_text(re.compile("kept\\.|Sent"))
    end()
    end = answered(page, "scuttle", status=413, body="too large")
    online(page)
    expect(waiting).to_contain_text("Refused, scuttle: 480, 483, 481 µm")
    assert not FilmReading.objects.filter(panel="scuttle").exists()
    end()
    page.get_by_role("button", name="Send it again").click()
    expect(waiting).to_be_hidden()
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_what_is_not_taken_holds_up_its_own_page_alone(
    page: Page,
    car: Car,
    live_server: Any,
    open_panel: Open,  # noqa: F811
) -> None:
    """One more on a spot that is not there yet would become a spot of its own."""
    open_panel("scuttle")
    end = answered(page, "scuttle", status=500, body="broken")
    enter(page, "480", "483", "481")
    page.get_by_role("button", name=re.compile("^One more on the spot at")).click()
    type_numbers(page, "482")
    page.goto(live_server.url + reverse("panel", args=(car.slug, "bonnet")))
    before_n = FilmReading.objects.filter(panel="bonnet").count()
    enter(page, "510", "511", "512")
    expect(page.locator(SAID)).to_contain_text("3 readings kept.")
    expect(page.locator(f"{LIST} li")).to_have_count(2)
    assert FilmReading.objects.filter(panel="bonnet").count() == before_n + 3
    assert not FilmReading.objects.filter(panel="scuttle").exists()
    end()
    online(page)
    expect(page.locator(LIST)).to_be_hidden()
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 482), ("1", 483)]


def test_a_page_that_goes_in_the_moment_of_pressing_loses_nothing(
    page: Page,
    open_panel: Open,  # noqa: F811
) -> None:
    open_panel("scuttle")
    with messages_lost(page):
        tap(page, 0.3, 0.4)
        page.keyboard.type("480")
        # The store is slow, as it is on a phone that has much to do.
        page.evaluate(
            """() => {
              IDBFactory.prototype.open = () => ({});
              document.querySelector("#entry").requestSubmit();
            }"""
        )
        page.reload()
        expect(page.locator(f"{LIST} li")).to_have_count(1)
        expect(page.get_by_label("1st µm")).to_have_value("")
    expect(page.locator(LIST)).to_be_hidden()
    assert kept("scuttle") == [("1", 480)]


def test_a_device_without_a_store_sends_from_the_page_and_once(
    page: Page,
    open_panel: Open,  # noqa: F811
) -> None:
    page.add_init_script(
        "IDBObjectStore.prototype.put = function () { this.transaction.abort(); };"
    )
    open_panel("scuttle")
    with messages_lost(page):
        enter(page, "480", "483", "481")
        expect(page.locator(SAID)).to_contain_text("This device has no room for more")
        page.reload()
        expect(page.locator(SAID)).to_contain_text("Waiting, scuttle: 480, 483, 481 µm")
    expect(page.locator(SAID)).to_have_text("Spot 1: 3 readings kept.")
    page.reload()
    expect(page.get_by_label("1st µm")).to_have_value("")
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_a_clock_that_is_set_meanwhile_changes_neither_order_nor_time(
    page: Page,
    open_panel: Open,  # noqa: F811
) -> None:
    """A phone without a network may stand years off, and is put right when the network is back."""
    page.add_init_script(
        """(() => {
          const now = Date.now.bind(Date);
          Date.now = () => now() + Number(sessionStorage.getItem("off_ms") ?? 0);
        })()"""
    )
    open_panel("scuttle")
    with messages_lost(page):
        enter(page, "480", "483", "481")
        expect(page.locator(f"{LIST} li")).to_have_count(1)
        page.evaluate("sessionStorage.setItem('off_ms', -30 * 864e5)")
        page.get_by_role("button", name=re.compile("^One more on the spot at")).click()
        type_numbers(page, "482")
        expect(page.locator(f"{LIST} li")).to_have_count(2)
        page.evaluate("sessionStorage.setItem('off_ms', 10 * 864e5)")
    expect(page.locator(LIST)).to_be_hidden()
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 482), ("1", 483)]
    first = FilmReading.objects.filter(panel="scuttle").earliest("pk")
    today = page.evaluate("new Date().toISOString().slice(0, 10)")
    assert first.taken_at[:10] == today, "the first was pressed while the page knew the time"


def test_what_one_person_entered_is_not_sent_under_anothers_name(
    page: Page,
    live_server: Any,
    open_panel: Open,  # noqa: F811
) -> None:
    create_account(username="painter", role="craftsperson", password=PASSWORD, by=None)
    open_panel("scuttle")
    become(page, live_server, "painter", PHONE)
    page.context.new_page().goto(page.url)
    tap(page, 0.3, 0.4)
    page.keyboard.type("480")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(SAID)).to_contain_text("Somebody else is signed in")
    page.reload()
    expect(page.locator(LIST)).to_be_hidden()
    tap(page, 0.6, 0.4)
    page.keyboard.type("499")
    expect(page.locator("[data-spot-line]")).to_contain_text("New spot")
    become(page, live_server, "trimmer", PHONE)
    page.reload()
    expect(page.locator(SAID)).to_contain_text("1 reading kept.")
    expect(page.get_by_label("1st µm")).to_have_value("")  # what was begun is the painter's
    (reading,) = FilmReading.objects.filter(panel="scuttle")
    assert (reading.by, reading.entered_by) == (
        "trimmer",
        get_user_model().objects.get(username="trimmer"),
    )


def test_two_tabs_tell_the_same_and_send_once(page: Page, open_panel: Open) -> None:  # noqa: F811
    open_panel("scuttle")
    with messages_lost(page):
        enter(page, "480", "483", "481")
        expect(page.locator(LIST)).to_be_visible()
        other = page.context.new_page()
        other.goto(page.url)
        expect(other.get_by_role("rowheader", name="1", exact=True)).to_be_visible()
        expect(page.locator(LIST)).to_be_hidden()
        expect(page.get_by_role("rowheader", name="1", exact=True)).to_be_visible()
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_a_link_to_a_place_is_a_tap_and_a_reload_is_none(
    page: Page,
    open_panel: Open,  # noqa: F811
) -> None:
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    page.keyboard.type("480")
    page.goto(f"{page.url}?x=350&y=120")
    line = page.locator("[data-spot-line]")
    expect(line).to_have_text("New spot at 350, 120 mm takes 480 µm, typed before the tap")
    tap(page, 0.7, 0.4)
    expect(line).not_to_contain_text("350, 120")
    told = line.inner_text().split(" takes")[0]
    page.reload()
    expect(line).to_have_text(told)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(SAID)).to_contain_text("1 reading kept.")
    page.reload()
    expect(line).to_contain_text("is done. Tap the next place.")


def test_an_answer_takes_nothing_from_what_is_begun_meanwhile(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("polish-panel", "bonnet")
    held: list[Route] = []
    page.route(
        "**/polish/**", lambda r: held.append(r) if r.request.method == "POST" else r.continue_()
    )
    page.get_by_label("spot", exact=True).select_option("B3")
    page.get_by_label("after, 1st").fill("480")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator(LIST)).to_be_visible()
    tap(page, 0.5, 0.5)
    process = page.get_by_label("machine, pad, compound")
    process.click()
    place = page.locator("#id_x_mm").input_value()
    assert place
    held[0].continue_()
    expect(page.locator(SAID)).to_contain_text("Kept: spot B3")
    page.keyboard.type("soft pad")
    expect(process).to_have_value("soft pad")
    expect(page.locator("#id_x_mm")).to_have_value(place)
    page.unroute_all()
    assert [one.cells["spot"] for one in Observation.objects.all()] == ["B3"]


def test_a_row_of_metal_readings_is_entered_while_the_network_is_slow(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("metal-subject", "panel", "door left")
    held: list[Route] = []
    page.route(
        "**/metal/**", lambda r: held.append(r) if r.request.method == "POST" else r.continue_()
    )
    for across, numbers in ((0.3, "0,62\n0,6\n0.61\n"), (0.6, "0.7\n")):
        tap(page, across, 0.5)
        page.keyboard.type(numbers)
    expect(page.get_by_label("1st mm")).to_have_value("0.7")
    page.reload()
    expect(page.get_by_label("1st mm")).to_have_value("0.7")
    page.unroute_all()
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(LIST)).to_be_hidden()
    told = [one.cells["thickness_mm"] for one in Observation.objects.order_by("pk")]
    assert told == ["0.62", "0.6", "0.61", "0.7"], json.dumps(told)
