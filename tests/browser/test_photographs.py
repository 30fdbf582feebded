"""Photographs at the car: many sent at once, one marked by hand, one wiped over another."""

from __future__ import annotations

import io
import json

import numpy as np
import pytest
import segno
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect
from scipy.ndimage import gaussian_filter
from tests.browser.conftest import PHONE, become, follow

from asfound.exchange.photographs import take_in
from asfound.record.actions import add_parts, change_photo
from asfound.record.models import Car, Photo

pytestmark = pytest.mark.django_db(transaction=True)


def jpeg(seed: int, *, turn: float = 0.0, size: tuple[int, int] = (360, 480)) -> bytes:
    """A made-up surface with corners at many scales."""
    draw = np.random.default_rng(seed)
    rough = sum(gaussian_filter(draw.normal(size=size), s) * s for s in (2, 5, 12))
    grey = ((rough - rough.min()) / np.ptp(rough) * 255).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(grey).convert("RGB").rotate(turn).save(out, "JPEG", quality=92)
    return out.getvalue()


def label(tag: str) -> bytes:
    out = io.BytesIO()
    segno.make_qr(f"http://bench/t/{tag}/", error="m").save(out, kind="png", scale=9, border=6)
    return out.getvalue()


def as_file(name: str, data: bytes, kind: str = "image/jpeg") -> dict[str, object]:
    return {"name": name, "mimeType": kind, "buffer": data}


def keep(car: Car, data: bytes, **told: str) -> Photo:
    row = {"subject": "bonnet", "view": "whole", "stage": "before", **told}
    return take_in([("a.jpg", io.BytesIO(data))], car=car, by=None, **row).photos[0]


def address_of(live_server, name: str, car: Car, *more: str) -> str:
    return live_server.url + reverse(name, args=(car.slug, *more))


def test_many_are_sent_in_batches_sorted_by_labels_and_what_failed_is_named(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    hinge, lamp = add_parts(car=car, rows=[{"name": "hinge"}, {"name": "lamp"}], by=None)
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "add-photos", car))
    assert_accessible(page)
    files = [as_file("IMG_1.png", label(hinge.tag), "image/png")]
    files += [as_file(f"IMG_{n}.jpg", jpeg(n)) for n in range(2, 8)]
    files += [as_file("IMG_8.png", label(lamp.tag), "image/png"), as_file("IMG_9.jpg", b"torn")]
    files += [as_file("IMG_10.jpg", jpeg(10))]
    page.get_by_label("from the gallery or a folder").set_input_files(files[::-1])  # type: ignore[arg-type]
    page.get_by_label("sort by the labels between them").check()
    page.get_by_role("button", name="Keep them").click()
    expect(page.locator("[data-said]")).to_contain_text("9 of 10 are kept")
    expect(page.locator("[data-faults]")).to_contain_text("IMG_9.jpg")
    assert_accessible(page)
    kept = car.photos.current()
    assert kept.filter(subject=hinge.part).count() == 7
    assert kept.filter(subject=lamp.part).count() == 2
    page.get_by_role("link", name="Look at them").click()
    expect(page.locator(".thumbs img")).to_have_count(9)
    assert_accessible(page)


def test_what_the_network_swallowed_is_sent_again_and_kept_once(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "add-photos", car))
    page.get_by_label("from the gallery or a folder").set_input_files(
        [as_file(f"{n}.jpg", jpeg(n)) for n in range(6)]  # type: ignore[misc]
    )
    asked = []

    def second_is_lost(route) -> None:
        asked.append(route)
        if len(asked) == 2:
            route.fetch()
            route.abort()
        else:
            route.continue_()

    page.route("**/photos/add/", second_is_lost)
    page.get_by_role("button", name="Keep them").click()
    expect(page.locator("[data-said]")).to_contain_text("The network did not answer")
    page.get_by_role("button", name="Send the rest again").click()
    expect(page.locator("[data-said]")).to_contain_text("6 of 6 are kept")
    assert car.photos.count() == 6


def test_a_ring_and_an_arrow_are_drawn_by_hand_and_stay(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    photo = keep(car, jpeg(3))
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "photo", car, photo.sha256))
    assert_accessible(page)
    page.locator("[data-marking] summary").click()
    page.locator("[data-says]").fill("blister")
    page.get_by_role("radio", name="ring").check()
    drag(page, (0.2, 0.3), (0.5, 0.7))
    page.get_by_role("radio", name="arrow").check()
    drag(page, (0.9, 0.1), (0.6, 0.4))
    assert_accessible(page)
    follow(page.get_by_role("button", name="Keep the marks"))
    expect(page.locator(".mark-ring")).to_be_visible()
    ring, arrow = json.loads(car.photos.current().get().marks)
    assert (ring["kind"], ring["words"]) == ("ring", "blister")
    assert np.allclose(ring["points"], [[0.2, 0.3], [0.5, 0.7]], atol=0.02)
    assert np.allclose(arrow["points"], [[0.9, 0.1], [0.6, 0.4]], atol=0.02)
    assert_accessible(page)


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    picture = page.locator("[data-picture]")
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + start[0] * box["width"], box["y"] + start[1] * box["height"])
    page.mouse.down()
    page.mouse.move(box["x"] + end[0] * box["width"], box["y"] + end[1] * box["height"], steps=4)
    page.mouse.up()


def test_a_mark_is_set_by_the_keyboard_alone(page: Page, car: Car, live_server) -> None:
    photo = keep(car, jpeg(3))
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "photo", car, photo.sha256))
    page.locator("[data-marking] summary").focus()
    page.keyboard.press("Enter")
    page.get_by_label("mark", exact=True).select_option("words")
    page.get_by_label("from left %").fill("40")
    page.get_by_label("from top %").fill("60")
    page.get_by_label("words", exact=True).and_(page.locator("#id_words")).fill("stamp")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.locator(".mark-words")).to_contain_text("stamp")


def test_the_later_photograph_is_wiped_over_the_earlier_one(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    before = keep(car, jpeg(7))
    after = keep(car, jpeg(7, turn=2.0), stage="after")
    change_photo(photo=after, pair=before.file, reason="pair", by=None)
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "photo", car, after.sha256))
    hand = page.get_by_role("slider")
    expect(hand).to_be_visible()
    assert_accessible(page)
    over = page.locator(".wipe-over")
    shows = "e => getComputedStyle(e).clipPath"
    half = over.evaluate(shows)
    hand.focus()
    page.keyboard.press("End")
    expect(hand).to_have_attribute("aria-valuetext", "100 per cent of the later one shows")
    assert over.evaluate(shows) != half
    page.keyboard.press("Home")
    expect(hand).to_have_attribute("aria-valuetext", "0 per cent of the later one shows")


def test_a_missing_view_leads_to_where_it_is_sent_in(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(address_of(live_server, "wanted-photos", car))
    assert_accessible(page)
    page.get_by_role("link", name="missing: underside, before").click()
    expect(page.get_by_label("how", exact=True)).to_have_value("underside")
    expect(page.get_by_label("what it shows")).to_have_value("car")
