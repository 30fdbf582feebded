"""The trimmer scans parts and a box with a phone: the codes are read in the page itself."""

from __future__ import annotations

import io

import pytest
import segno
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become

from asfound.record.actions import add_parts, add_place
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


def photograph(text: str) -> dict[str, object]:
    """A label as the phone's camera sees it."""
    out = io.BytesIO()
    segno.make_qr(text, error="m").save(out, kind="png", scale=9, border=6)
    return {"name": "label.png", "mimeType": "image/png", "buffer": out.getvalue()}


def test_a_part_and_a_box_are_scanned_and_the_part_is_moved(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    (hinge,) = add_parts(car=car, rows=[{"name": "door hinge", "place": "bench"}], by=None)
    box = add_place(name="box 4", kind="box", by=None)
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("scan"))
    assert_accessible(page)
    codes = page.locator("[data-camera-file]")
    codes.set_input_files(photograph(f"{live_server.url}/t/{hinge.tag}/"))
    expect(page.locator("[data-camera-said]")).to_contain_text("so far in bench")
    codes.set_input_files(photograph(f"{live_server.url}/t/{box.tag}/"))
    expect(page.locator("[data-camera-said]")).to_contain_text("They go into box 4")
    page.get_by_role("button", name="Put them there").click()
    expect(page.get_by_role("status").filter(has_text="now in box 4")).to_be_visible()
    hinge.refresh_from_db()
    assert hinge.place == "box 4"


def test_a_part_is_entered_at_the_bench_and_the_next_one_follows(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("add-part", args=(car.slug,)))
    assert_accessible(page)
    page.get_by_label("what it is").fill("striker plate")
    page.get_by_label("where it goes").fill("box 4")
    page.get_by_role("button", name="Keep, and the next").click()
    expect(page.get_by_role("status").filter(has_text="striker plate is kept")).to_be_visible()
    expect(page.get_by_label("where it goes")).to_have_value("box 4")
    expect(page.get_by_label("what it is")).to_be_focused()
    part = car.parts.get(name="striker plate")
    page.goto(live_server.url + reverse("part", args=(car.slug, part.part)))
    assert_accessible(page)
    page.goto(live_server.url + reverse("parts", args=(car.slug,)))
    assert_accessible(page)
    page.get_by_label("Find a part, a place, a number").fill("striker")
    expect(page.locator("#parts .index-name")).to_have_count(1)
