"""The order of stripping of a large car, looked at with keys, a pointer and a phone."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest
import segno
from benchmarks.strip_car import strip_car
from django.core.cache import cache
from playwright.sync_api import Page, expect
from tests.browser.conftest import follow

from asfound.record.actions import (
    came_off,
    create_account,
    give_tags,
    load_car,
    move_parts,
    sheet_rows,
)
from asfound.record.models import Car
from asfound.record.tables.strip import is_off

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
    follow(page.locator("svg.strip-order").get_by_role("link", name="engine"))
    drawing = page.get_by_role("group", name="What holds or hides what").first
    before = width_of(page)
    drawing.focus()
    page.keyboard.press("+")
    assert width_of(page) == pytest.approx(1.2 * before, rel=0.01)
    page.get_by_role("button", name="Whole").click()
    page.wait_for_function(
        "width => document.querySelector('svg.strip-order').getBoundingClientRect().width <= width",
        arg=drawing.evaluate("d => d.clientWidth") + 1,
    )
    page.get_by_role("button", name="1 : 1").click()
    drawing.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.querySelector('.strip-wide .swipe').scrollLeft > 0")
    page.get_by_label("A piece to reach").fill("camsh")
    found = page.locator("svg.strip-order a.is-found")
    expect(found).to_have_text("CamshaftCamshaft")
    expect(found).to_be_in_viewport()
    assert_accessible(page)
    follow(found)
    expect(page.get_by_role("heading", name="To reach Camshaft")).to_be_visible()

    page.set_viewport_size({"width": 360, "height": 740})
    follow(page.get_by_role("link", name="What comes off first").first)
    expect(page.locator("svg.strip-order")).to_be_hidden()
    page.get_by_text("Engine 9 now, 43 in all").click()
    expect(page.get_by_role("link", name="Camshaft")).to_be_visible()
    assert_accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    follow(page.get_by_role("link", name="Camshaft"))
    expect(page.get_by_role("heading", name="To reach Camshaft")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("link", name="how it comes off and goes on").click()
    expect(page.get_by_role("heading", name="Camshaft: off and on")).to_be_visible()
    assert_accessible(page)


class Thumb:
    """A thumb that counts how often it touches the screen."""

    def __init__(self, page: Page) -> None:
        self.page, self.touches = page, 0

    def touch(self, words: str, *, on: str) -> None:
        group = self.page.get_by_role("group", name=on)
        group.get_by_role("button", name=words).click()
        self.touches += 1


CAME_OFF, WAS_OFF = "Parts that may have come off", "Parts that were off before"


def joined(car: Car) -> set[tuple[str, str]]:
    car.refresh_from_db()
    return {(r["part"], r["comes_off_after"]) for r in sheet_rows(car, "joints")}


def test_what_came_off_takes_two_touches_with_and_without_a_network(
    page: Page, car: Car, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    for name in ("chassis plate", "bonnet badge", "bonnet stay", "horn left"):
        (part,) = car.parts.filter(part=name)
        move_parts(parts=[part], to_place="bench", by=None)
    at("came-off")
    assert_accessible(page)
    thumb = Thumb(page)
    thumb.touch("Bonnet badge", on=CAME_OFF)
    thumb.touch("Horn left", on=WAS_OFF)
    expect(page.get_by_role("status").filter(has_text="Bonnet badge came off")).to_be_visible()
    assert thumb.touches == 2
    assert ("bonnet badge", "horn left") in joined(car)

    page.context.set_offline(True)
    thumb = Thumb(page)
    thumb.touch("Bonnet stay", on=CAME_OFF)
    thumb.touch("Bonnet badge, off", on=WAS_OFF)
    waiting = page.locator("[data-unsent-list] li")
    expect(waiting).to_contain_text("Bonnet stay, Bonnet badge")
    thumb.touch("Horn left, off", on=WAS_OFF)  # one more touch for what else held it
    expect(waiting).to_have_count(2)
    assert thumb.touches == 3
    assert not joined(car) & {("bonnet stay", "bonnet badge"), ("bonnet stay", "horn left")}
    page.context.set_offline(False)
    expect(waiting).to_have_count(0)
    assert {("bonnet stay", "bonnet badge"), ("bonnet stay", "horn left")} <= joined(car)

    at("came-off")
    thumb = Thumb(page)
    thumb.touch("Chassis plate", on=CAME_OFF)
    thumb.touch("Bonnet stay, off", on=WAS_OFF)
    told = page.get_by_role("status").filter(has_text="Chassis plate came off")
    told.get_by_role("button").click()
    expect(page.get_by_role("status").filter(has_text="as it was before")).to_be_visible()
    assert ("chassis plate", "bonnet stay") not in joined(car)


def off_now(car: Car) -> set[str]:
    car.refresh_from_db()
    return {r["part"] for r in sheet_rows(car, "removals") if is_off(r)}


def test_what_is_on_again_takes_one_touch_with_and_without_a_network(
    page: Page, car: Car, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    for part in ("battery clamp", "battery", "horn left"):
        came_off(car=car, part=part, off_on="2026-11-02", by=None)
    assert len(off_now(car)) == 3
    page.set_viewport_size({"width": 360, "height": 740})
    at("on-again")
    assert_accessible(page)
    following = page.locator("[data-steps=next]")
    expect(following.get_by_role("listitem").filter(has_text="Battery clamp")).to_have_count(0)
    page.context.set_offline(True)
    following.get_by_role("button", name="It is on again: Battery", exact=True).click()
    waiting = page.locator("[data-unsent-list] li")
    expect(waiting).to_contain_text("on again, Battery")
    clamp = following.get_by_role("button", name="It is on again: Battery clamp")
    expect(clamp).to_be_visible()  # nothing that goes on before it is off any longer
    clamp.click()
    expect(waiting).to_have_count(2)
    assert {"battery", "battery clamp"} <= off_now(car)
    page.context.set_offline(False)
    expect(waiting).to_have_count(0, timeout=20_000)
    assert off_now(car) == {"horn left"}
    at("on-again")
    page.get_by_role("button", name="It is on again: Horn left").click()
    told = page.get_by_role("status").filter(has_text="Horn left is on again")
    told.get_by_role("button").click()
    expect(page.get_by_role("status").filter(has_text="off again as it was")).to_be_visible()
    assert off_now(car) == {"horn left"}


def test_a_label_is_read_without_a_network(page: Page, car: Car, at: Callable[..., None]) -> None:
    give_tags(car=car, by=None)
    tag = car.parts.get(part="gear knob").tag
    at("came-off")
    page.context.set_offline(True)
    out = io.BytesIO()
    segno.make_qr(f"http://desk/t/{tag}/", error="m").save(out, kind="png", scale=9, border=6)
    label = {"name": "label.png", "mimeType": "image/png", "buffer": out.getvalue()}
    page.locator("[data-camera-file]").set_input_files(label)
    expect(page.get_by_label("came off")).to_have_value("gear knob")
    expect(page.locator("[data-camera-said]")).to_have_text("Gear knob.")
