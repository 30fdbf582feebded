"""Journeys of sheet metal: read with a thumb, held against tables that are filled in."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE, become, follow

from asfound.record.actions import sheet_rows
from asfound.record.models import Car

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def go(page: Page, live_server, car: Car) -> Callable[[str], None]:
    become(page, live_server, "trimmer")
    return lambda path: page.goto(live_server.url + path) and None


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_tap_and_two_numbers_are_a_reading(
    car: Car, go, page: Page, assert_accessible, size: dict
) -> None:
    page.set_viewport_size(size)
    go(reverse("survey", args=(car.slug,)))
    follow(page.get_by_role("link", name="Metal", exact=True))
    page.get_by_label("Read at the car").fill("door left")
    follow(page.get_by_role("button", name="Enter readings"))
    figure = page.locator("[data-panel-figure] svg")
    figure.scroll_into_view_if_needed()
    page.evaluate("document.querySelector('#place').scrollIntoView()")
    figure.click(position={"x": 160, "y": 90})
    first = page.get_by_label("1st mm")
    expect(first).to_be_focused()
    assert first.get_attribute("inputmode") == "decimal"
    assert first.bounding_box()["height"] >= THUMB_PX
    first.fill("0,62")
    first.press("Enter")
    expect(page.get_by_label("2nd mm")).to_be_focused()
    page.get_by_label("2nd mm").fill("0.60")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("2 readings kept on door left")).to_be_visible()
    rows = [row.cells for row in car.observations.all()]
    assert [row["thickness_mm"] for row in rows] == ["0.62", "0.60"]
    svg = figure.evaluate("s => ({...s.dataset, w: s.getBoundingClientRect().width})")
    at_mm = float(svg["x0"]) + 160 * 620 / svg["w"] / float(svg["scale"])
    assert float(rows[0]["x_mm"]) == pytest.approx(at_mm, abs=3)
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    follow(page.get_by_role("link", name="Sheet metal"))
    expect(page.get_by_role("link", name="door left").first).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_small_table_is_filled_in_and_told_what_is_wrong(
    car: Car, go, page: Page, assert_accessible, size: dict
) -> None:
    page.set_viewport_size(size)
    go(reverse("table", args=(car.slug, "sheet_nominals")))
    page.get_by_label("panel, row 1", exact=True).fill("door left")
    page.get_by_label("when new, row 1").fill("15")
    page.get_by_label("counted in, row 1").select_option("MSG")
    page.get_by_role("button", name="Keep the table").click()
    expect(page.get_by_text("MSG has no such thickness")).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    page.get_by_label("when new, row 1").fill("16")
    page.get_by_role("button", name="Keep the table").click()
    expect(page.get_by_text("Kept: 1 row.")).to_be_visible()
    assert_accessible(page)
    car.refresh_from_db()
    assert sheet_rows(car, "sheet_nominals")[0]["nominal"] == "16"


def test_without_scripts_a_table_and_a_reading_are_kept(browser, car: Car, live_server) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    become(page, live_server, "trimmer")
    page.goto(live_server.url + reverse("table", args=(car.slug, "instruments")))
    for _ in range(2):
        follow(page.get_by_role("button", name="More empty rows"))
    page.get_by_label("instrument, row 7").fill("M3")
    page.get_by_label("kind, row 7").select_option("sheet thickness")
    page.get_by_label("standard uncertainty u, row 7").fill("0,02")
    page.get_by_label("unit, row 7").select_option("mm")
    page.get_by_label("source, row 7").fill("trial")
    page.get_by_role("button", name="Keep the table").click()
    expect(page.get_by_text("Kept: 1 row.")).to_be_visible()
    page.goto(live_server.url + reverse("metal-subject", args=(car.slug, "panel", "door left")))
    for name, cell in {"x mm": "100", "y mm": "50", "1st mm": "0.6"}.items():
        page.get_by_label(name, exact=True).fill(cell)
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("1 reading kept on door left")).to_be_visible()
    assert car.observations.get().cells["gauge"] == "M3"
    context.close()


def test_without_a_network_readings_wait_on_the_device_and_are_kept_once(
    car: Car, go, page: Page
) -> None:
    page.set_viewport_size(PHONE)
    go(reverse("metal-subject", args=(car.slug, "panel", "door left")))
    page.get_by_label("gauge", exact=True).fill("U2")
    page.context.set_offline(True)
    for label, typed in (("x mm", "200"), ("y mm", "150"), ("1st mm", "0,62"), ("2nd mm", "0.6")):
        page.get_by_label(label, exact=True).fill(typed)
    page.get_by_role("button", name="Keep").click()
    waiting = page.locator("[data-unsent-list]")
    expect(waiting).to_contain_text("Waiting to be sent, door left, mm, 0,62, 0.6.")
    expect(page.get_by_label("1st mm")).to_have_value("")
    expect(page.get_by_label("gauge", exact=True)).to_have_value("U2")
    assert not car.observations.exists()
    page.context.set_offline(False)
    expect(waiting).to_be_hidden()
    assert [row.cells["thickness_mm"] for row in car.observations.all()] == ["0.62", "0.6"]
    page.get_by_label("1st mm").fill("-4")
    page.get_by_label("x mm", exact=True).fill("200")
    page.get_by_label("y mm", exact=True).fill("150")
    page.get_by_role("button", name="Keep").click()
    expect(waiting).to_contain_text("Refused, door left, mm, -4.")
    assert car.observations.count() == 2
