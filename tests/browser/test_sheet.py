"""Journeys of the sheet: a car begun by tape, corners dragged, a panel traced over a photo."""

from __future__ import annotations

import io
import re

import pytest
import shapely
from django.urls import reverse
from PIL import Image, ImageDraw
from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import DESK, PASSWORD, PHONE, become, follow, tap_on

from asfound.record.models import Car, Panel

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_four_lengths_in_the_barn_begin_a_car(
    page: Page, car: Car, live_server, assert_accessible, size: dict
) -> None:
    become(page, live_server, "trimmer", size)
    page.goto(live_server.url)
    follow(page.get_by_role("link", name="New car by tape"))
    for name, length in {"wheelbase": 2400, "length": 3900, "width": 1500}.items():
        box = page.get_by_role("textbox", name=f"{name} mm", exact=True)
        assert box.get_attribute("inputmode") == "decimal"
        assert _height(box) >= THUMB_PX
        box.fill(str(length))
    preview = page.locator("#preview")
    expect(preview).to_contain_text("Still to measure: height")
    page.get_by_role("textbox", name="height mm").fill("1400")
    expect(preview.locator("svg")).to_be_visible()
    expect(preview).to_contain_text("nobody taped it: front overhang")
    page.get_by_label("Body form").select_option("van")
    expect(page.locator("#tape-diagram title")).to_contain_text("van")
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    page.get_by_label("Marque").fill("Selvany")
    page.get_by_label("Model").fill("Orla")
    page.get_by_label("Built").fill("1958~")
    page.get_by_role("button", name="Create the car").click()
    expect(page.get_by_role("heading", name="Survey of the finish")).to_be_visible()
    expect(page.locator('[data-panel="roof"]')).to_be_attached()
    assert Car.objects.get(marque="Selvany").body_style == "van"


def test_the_sheet_is_previewed_without_scripts(browser, car: Car, live_server) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(live_server.url + reverse("new-car"))
    page.get_by_label("Username").fill("trimmer")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    lengths = {"wheelbase": 2400, "length": 3900, "width": 1500, "height": 1400}
    for name, length in lengths.items():
        page.get_by_role("textbox", name=f"{name} mm", exact=True).fill(str(length))
    page.get_by_role("button", name="Preview").click()
    expect(page.locator("#preview svg")).to_be_visible()
    context.close()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_corner_is_dragged_by_pointer(
    page: Page, car: Car, live_server, assert_accessible, size: dict
) -> None:
    become(page, live_server, "trimmer", size)
    page.goto(live_server.url + reverse("outline", args=(car.slug, "scuttle")))
    area = page.locator("[data-area]")
    expect(area).to_have_text("0.240 m²")
    mm = _pixels_a_mm(page)
    _drag(page, page.locator(".bench-dot").nth(2), 0, 100 * mm)
    # The triangle between two corners 1200 mm apart and the third, moved by 100 mm: 0.06 m².
    expect(page.locator("[data-change]")).to_have_text(_about("+", 0.060))
    page.get_by_role("button", name="Undo").click()
    expect(area).to_have_text("0.240 m²")
    _drag(page, page.locator(".bench-dot").nth(2), 0, 100 * mm)
    for button in page.locator("[data-bench-keys] button").all():
        assert _height(button) >= THUMB_PX
    assert_accessible(page)
    page.get_by_label("Why").fill("measured again")
    page.get_by_role("button", name="Keep this outline").click()
    expect(page.get_by_text("The outline of scuttle is corrected")).to_be_visible()
    kept = shapely.from_wkt(Panel.objects.get(car=car, panel="scuttle").outline_wkt)
    assert kept.area == pytest.approx(300_000, rel=0.02)
    assert kept.bounds[3] == pytest.approx(300, abs=8)


def test_a_corner_is_moved_by_keys(page: Page, car: Car, live_server) -> None:
    become(page, live_server, "trimmer")
    page.goto(live_server.url + reverse("outline", args=(car.slug, "scuttle")))
    page.get_by_role("application").focus()
    for key in ("PageDown", "PageDown", "Shift+ArrowDown", "ArrowRight", "ArrowRight"):
        page.keyboard.press(key)
    expect(page.locator("[data-corner]")).to_have_text("3 of 4, at 1210, 250 mm")
    page.keyboard.press("Control+z")
    expect(page.locator("[data-corner]")).to_have_text("3 of 4, at 1205, 250 mm")
    page.get_by_label("Why").fill("measured again")
    page.keyboard.press("Enter")
    expect(page.get_by_text("The outline of scuttle is corrected")).to_be_visible()
    kept = Panel.objects.get(car=car, panel="scuttle").outline_wkt
    assert shapely.from_wkt(kept).equals(
        shapely.Polygon([(0, 0), (1200, 0), (1205, 250), (0, 200)])
    )


def test_a_crossed_outline_is_refused_and_stays_on_the_bench(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer")
    page.goto(live_server.url + reverse("outline", args=(car.slug, "scuttle")))
    mm = _pixels_a_mm(page)
    _drag(page, page.locator(".bench-dot").nth(2), -600 * mm, -300 * mm)
    page.get_by_label("Why").fill("a slip")
    page.get_by_role("button", name="Keep this outline").click()
    expect(page.get_by_role("alert")).to_contain_text("does not cross itself")
    assert Panel.objects.get(car=car, panel="scuttle").outline_wkt.count(",") == 4
    expect(page.locator("[data-change]")).not_to_be_empty()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_panel_is_traced_over_a_photo_that_stays_here(
    page: Page, car: Car, live_server, assert_accessible, size: dict
) -> None:
    become(page, live_server, "trimmer", size)
    sent: list[str] = []
    page.on("request", lambda r: sent.append(r.headers.get("content-type", "")))
    page.goto(live_server.url + reverse("trace", args=(car.slug,)))
    photo = {"name": "lid.png", "mimeType": "image/png", "buffer": _photo()}
    page.get_by_label("Photo of the panel").set_input_files(photo)
    # The photo shows 1600 x 1000 mm straight on; the taped rectangle is 800 x 500 mm.
    _tap(page, (0.25, 0.25), (0.75, 0.25), (0.75, 0.75), (0.25, 0.75))
    page.get_by_label("Width of the rectangle").fill("800")
    page.get_by_label("Height of the rectangle").fill("500")
    page.get_by_role("button", name="Panel's edge").click()
    _tap(page, (0.125, 0.1), (0.875, 0.1), (0.875, 0.9), (0.125, 0.9))
    page.get_by_label("Its name").fill("boot lid")
    page.get_by_role("button", name="Look at the outline").click()
    expect(page.locator("#traced svg")).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("boot lid is traced")).to_be_visible()
    kept = shapely.from_wkt(Panel.objects.get(car=car, panel="boot lid").outline_wkt)
    # A tap lands within a pixel of the screen: 5 mm on the phone.
    assert kept.bounds == pytest.approx((0, 0, 1200, 800), abs=12)
    assert not [kind for kind in sent if "multipart" in kind or "image" in kind]


def _photo() -> bytes:
    photo = Image.new("RGB", (1600, 1000), (96, 100, 104))
    ImageDraw.Draw(photo).rectangle((200, 100, 1400, 900), fill=(52, 86, 94))
    held = io.BytesIO()
    photo.save(held, "PNG")
    return held.getvalue()


def _tap(page: Page, *shares: tuple[float, float]) -> None:
    for share in shares:
        tap_on(page.locator("[data-svg]"), *share)


def _drag(page: Page, corner: Locator, dx: float, dy: float) -> None:
    corner.scroll_into_view_if_needed()
    box = corner.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx, y + dy, steps=5)
    page.mouse.up()


def _pixels_a_mm(page: Page) -> float:
    return float(page.evaluate("document.querySelector('.bench').getScreenCTM().a"))


def _height(box: Locator) -> float:
    seen = box.bounding_box()
    assert seen is not None
    return seen["height"]


def _about(sign: str, value_m2: float) -> re.Pattern[str]:
    low, high = value_m2 - 0.002, value_m2 + 0.002
    steps = round((high - low) * 1000)
    allowed = "|".join(f"{low + i / 1000:.3f}" for i in range(steps + 1))
    return re.compile(rf"^{re.escape(sign)}({allowed}) m²$")
