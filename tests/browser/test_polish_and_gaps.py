"""Polishing and gaps entered with a thumb: Enter goes on, a tap names the spot, drafts survive."""

from __future__ import annotations

import json
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, follow, messages_lost

from asfound.record.models import Car, FilmReading, Observation

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


def no_sideways(page: Page) -> None:
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= page.viewport_size["width"]  # type: ignore[index]


def after_polishing(page: Page, numbers: tuple[str, ...]) -> None:
    """Three numbers, each ended with Enter; the last one keeps the spot."""
    for label, number in zip(("after, 1st", "2nd", "3rd"), numbers, strict=True):
        box = page.get_by_label(label)
        expect(box).to_be_focused()
        assert box.get_attribute("inputmode") == "decimal"
        box.fill(number)
        page.keyboard.press("Enter")


def test_spots_are_polished_and_the_wedges_stand(
    page: Page, car: Car, at: Callable[..., None], assert_accessible
) -> None:
    at("polish-panel", "bonnet")
    assert_accessible(page)
    no_sideways(page)
    for spot in ("B1", "B2", "B3"):
        page.get_by_label("spot", exact=True).select_option(spot)
        expect(page.get_by_label("before µm")).not_to_have_value("")
        page.get_by_label("passes", exact=True).fill("3")
        page.get_by_label("after, 1st").focus()
        after_polishing(page, ("491", "492", "490"))
        expect(page.locator("[data-unsent-said]")).to_contain_text(f"Kept: spot {spot}")
        expect(page.locator(":focus")).to_have_attribute("inputmode", "decimal")
    kept = Observation.objects.filter(table="polish")
    assert [o.cells["spot"] for o in kept] == ["B1", "B2", "B3"]
    assert {o.cells["after_um"] for o in kept} == {"491"}
    expect(page.get_by_role("img", name="bonnet: film above the floor")).to_be_visible()
    assert_accessible(page)
    page.set_viewport_size(DESK)
    at("polish")
    assert_accessible(page)
    expect(page.get_by_text("No floor is set").first).to_be_visible()


def test_a_tap_names_the_spot_that_lies_there_or_a_new_one(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("polish-panel", "bonnet")
    figure = page.locator("[data-panel-figure] svg")
    figure.scroll_into_view_if_needed()

    def tap(x_mm: float, y_mm: float) -> None:
        x, y = figure.evaluate(
            """(svg, [x, y]) => {
              const { x0, y0, scale } = svg.dataset;
              const at = new DOMPoint((x - x0) * scale, (y - y0) * scale);
              const seen = at.matrixTransform(svg.getScreenCTM());
              return [seen.x, seen.y];
            }""",
            [x_mm, y_mm],
        )
        figure.evaluate(
            "(svg, [x, y]) => svg.dispatchEvent("
            "new MouseEvent('click', { bubbles: true, clientX: x, clientY: y }))",
            [x, y],
        )

    tap(152, 203)
    expect(page.get_by_label("spot", exact=True)).to_have_value("B1")
    expect(page.get_by_label("before µm")).not_to_have_value("")
    tap(280, 400)
    expect(page.get_by_label("spot", exact=True)).to_have_value("")
    expect(page.get_by_label("before µm")).to_have_value("")
    assert abs(float(page.locator("#id_x_mm").input_value()) - 280) <= 2


def test_without_a_network_readings_wait_outlive_a_reload_and_are_kept_once(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("polish-panel", "bonnet")
    waits = page.locator("[data-unsent-list] li")
    with messages_lost(page):
        for n, spot in enumerate(("B3", "B4"), start=1):
            page.get_by_label("spot", exact=True).select_option(spot)
            page.get_by_label("after, 1st").fill("480")
            page.get_by_role("button", name="Keep").click()
            expect(waits).to_have_count(n)
        expect(waits.first).to_contain_text("Waiting to be sent, bonnet, ")
        expect(page.locator("[data-unsent-said]")).to_contain_text("There is no network")
        page.reload()
        expect(waits).to_have_count(2)
        assert not Observation.objects.exists()
    expect(waits).to_have_count(0)
    page.reload()
    expect(page.get_by_role("heading", name="The observations")).to_be_visible()
    assert [o.cells["spot"] for o in Observation.objects.all()] == ["B3", "B4"]


def test_what_waited_in_the_stores_of_before_is_taken_over_and_kept_once(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("polish-panel", "bonnet")
    user = page.locator("#entry").get_attribute("data-user")
    here = page.url
    film = {"key": "f" * 32, "x_mm": "300", "y_mm": "90", "thickness_um": ["480", "483"]}
    polish = {"key": "p" * 32, "spot": "B3", "passes": "1", "before_um": "500", "after_um": "490"}
    when = "2026-03-02T08:30:00.000Z"
    film_page = here.replace("/polish/", "/survey/").replace("bonnet", "scuttle")
    waits = {
        "asfound.waiting": [{"url": film_page, "user": user, "fields": film, "when": when}],
        "asfound.observed.waiting": [{"url": here, "user": user, "fields": [*polish.items()]}],
    }
    for name, entries in waits.items():
        page.evaluate("one => localStorage.setItem(...one)", [name, json.dumps(entries)])
    with messages_lost(page):
        page.reload()
        expect(page.locator("[data-unsent-list] li")).to_have_text(
            [re.compile("scuttle: 480, 483"), re.compile("bonnet: 500, 490")]
        )
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    page.reload()
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert Observation.objects.get(table="polish").cells["spot"] == "B3"
    kept = FilmReading.objects.filter(panel="scuttle")
    assert sorted(one.thickness_um for one in kept) == [480, 483]


def test_what_breaks_a_rule_comes_back_with_it_and_a_draft_is_still_there(
    page: Page, car: Car, at: Callable[..., None]
) -> None:
    at("polish-panel", "scuttle")
    page.get_by_label("after, 1st").fill("480")
    page.reload()
    expect(page.get_by_label("after, 1st")).to_have_value("480")
    page.get_by_role("button", name="Keep").click()
    refused = page.locator("[data-unsent-list] li")
    expect(refused).to_contain_text("before is “”")
    page.get_by_role("button", name="Put back into the form").click()
    expect(refused).to_have_count(0)
    page.get_by_label("before µm").fill("490")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator("[data-unsent-said]")).to_contain_text("Kept: spot P1, 490 to 480")
    assert Observation.objects.count() == 1


def test_an_edge_is_begun_and_read_with_one_thumb(
    page: Page, car: Car, at: Callable[..., None], assert_accessible
) -> None:
    at("gaps")
    assert_accessible(page)
    page.get_by_label("Name of the edge").fill("left door, rear")
    follow(page.get_by_role("button", name="Begin it"))
    for gap, flush in (("4.0", "0.5"), ("5.2", "0.4"), ("6.1", "0.6")):
        page.get_by_label("gap mm").fill(gap)
        page.keyboard.press("Enter")
        expect(page.get_by_label("flush mm", exact=True)).to_be_focused()
        page.keyboard.type(flush)
        sign = page.get_by_role("button", name="Change the sign of the flush")
        assert sign.bounding_box()["height"] >= THUMB_PX  # type: ignore[index]
        sign.click()
        if gap == "4.0":
            page.get_by_label("along mm").fill("0")
        elif gap == "5.2":
            page.get_by_label("along mm").fill("300")
        else:
            expect(page.get_by_label("along mm")).to_have_value("600")
        page.get_by_role("button", name="Keep").click()
        expect(page.locator("[data-unsent-said]")).to_contain_text(f"Kept: gap {gap} mm")
        following = "along mm" if gap == "4.0" else "gap mm"
        expect(page.get_by_label(following)).to_be_focused()
    cells = [o.cells for o in Observation.objects.filter(table="gaps")]
    assert [c["along_mm"] for c in cells] == ["0", "300", "600"]
    assert [c["flush_mm"] for c in cells] == ["-0.5", "-0.4", "-0.6"]
    expect(page.get_by_text("Runs out by +2.10")).to_be_visible()
    expect(page.get_by_role("img", name="Gap of left door, rear")).to_be_visible()
    assert_accessible(page)
    no_sideways(page)
