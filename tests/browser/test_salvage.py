"""The stock and the errands in a browser: a hide traced, matched and reserved; a part sent out."""

from __future__ import annotations

import io

import pytest
import shapely
from django.urls import reverse
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become, follow

from asfound.record.actions import add_parts
from asfound.record.models import Car, SalvagePiece, SalvageRow, SalvageUse

pytestmark = pytest.mark.django_db(transaction=True)


def photograph() -> dict[str, object]:
    """A hide on a board, straight from above."""
    picture = Image.new("RGB", (800, 500), "#cdbfa5")
    ImageDraw.Draw(picture).rectangle((100, 50, 700, 450), fill="#5a191c")
    out = io.BytesIO()
    picture.save(out, "PNG")
    return {"name": "hide.png", "mimeType": "image/png", "buffer": out.getvalue()}


def tap(page: Page, *spots: tuple[float, float]) -> None:
    """Taps at shares of the photograph's width and height."""
    photo = page.locator("[data-svg]")
    photo.scroll_into_view_if_needed()
    box = photo.bounding_box()
    assert box is not None
    for x, y in spots:
        photo.click(position={"x": x * box["width"], "y": y * box["height"]})


def test_a_hide_is_entered_traced_matched_and_reserved_on_a_phone(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("salvage"))
    assert_accessible(page)
    follow(page.get_by_role("link", name="Enter a piece"))
    assert_accessible(page)
    page.get_by_label("photograph").set_input_files(photograph())
    page.get_by_label("kind").fill("hide")
    page.get_by_label("what it is").fill("oxblood hide")
    page.get_by_label("where it lies").fill("rack 2")
    page.get_by_role("button", name="Keep, and the next").click()
    expect(page.get_by_text("oxblood hide is kept as S0001")).to_be_visible()
    follow(page.get_by_role("link", name="S0001 oxblood hide"))
    follow(page.get_by_role("link", name="Trace it over a photo"))
    page.get_by_role("button", name="Use photograph 1 of the record").click()
    # The photograph shows 1600 by 1000 mm: the taped rectangle is 1400 by 900 mm of it.
    tap(page, (0.0625, 0.05), (0.9375, 0.05), (0.9375, 0.95), (0.0625, 0.95))
    page.get_by_label("Width of the rectangle").fill("1400")
    page.get_by_label("Height of the rectangle").fill("900")
    page.get_by_role("button", name="Its edge").click()
    tap(page, (0.125, 0.1), (0.875, 0.1), (0.875, 0.9), (0.125, 0.9))
    page.get_by_role("button", name="Flaws").click()
    tap(page, (0.2, 0.2), (0.3, 0.2), (0.3, 0.3), (0.2, 0.3))
    page.get_by_role("button", name="Nap").click()
    tap(page, (0.5, 0.3), (0.5, 0.7))
    page.get_by_label("nap or grain").select_option("one way")
    page.get_by_role("button", name="Look at it").click()
    expect(page.locator("#traced svg")).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("is traced:")).to_be_visible()
    assert_accessible(page)
    row = SalvageRow.objects.get(superseded_by=None)
    # A tap lands within a pixel of the screen: 5 mm.
    assert shapely.from_wkt(row.outline_wkt).bounds == pytest.approx((0, 0, 1200, 800), abs=15)
    assert row.nap_deg == pytest.approx(90, abs=3)
    assert [defect["kind"] for defect in row.defects] == ["hole"]

    page.goto(live_server.url + reverse("add-need", args=(car.slug,)))
    assert_accessible(page)
    page.get_by_label("what for").fill("rear squab")
    page.get_by_label("kind").fill("hide")
    page.get_by_label("width mm").fill("500")
    page.get_by_label("height mm").fill("700")
    page.get_by_label("nap or grain is to run").fill("90")
    page.get_by_role("button", name="Keep, and look through the stock").click()
    expect(page.get_by_role("heading", name="They serve")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("button", name="Reserve this cut").click()
    expect(page.get_by_text("a cut is reserved for Orvelle Tansy")).to_be_visible()
    use = SalvageUse.objects.get()
    laid = shapely.from_wkt(use.outline_wkt)
    assert laid.area == pytest.approx(350_000, rel=1e-3)
    hole = shapely.from_wkt(row.defects[0]["outline_wkt"])
    assert laid.intersection(hole).area < 30
    page.goto(live_server.url + reverse("salvage"))
    page.get_by_label("Find a piece").fill("nothing such")
    expect(page.get_by_text("None found.")).to_be_visible()
    page.get_by_label("Find a piece").fill("oxblood")
    expect(page.locator("#pieces .salvage-line")).to_have_count(1)
    assert SalvagePiece.objects.count() == 1


def test_a_part_is_sent_out_from_its_page_and_comes_back(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    (part,) = add_parts(car=car, rows=[{"name": "seat spring", "place": "box 4"}], by=None)
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("part", args=(car.slug, part.part)))
    page.get_by_role("link", name="Send it out").click()
    expect(page.get_by_role("heading", name="Tell them before they begin")).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    page.get_by_label("to whom").fill("Brisk Plating")
    page.get_by_label("for what").fill("zinc plating")
    page.get_by_label("due back").fill("2031-03-04")
    page.get_by_role("button", name="They are on their way").click()
    expect(page.locator(".where-now")).to_contain_text("Out at Brisk Plating, due in")
    assert_accessible(page)
    page.goto(live_server.url + reverse("all-errands"))
    assert_accessible(page)
    follow(page.get_by_role("link", name="seat spring"))
    assert_accessible(page)
    page.get_by_label("where it lies now").fill("shelf 2")
    page.get_by_role("button", name="It is back").click()
    expect(page.locator(".where-now")).to_have_text("shelf 2")
    part.refresh_from_db()
    assert part.place == "shelf 2"
