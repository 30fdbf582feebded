"""A day at the bench: a seat is stripped and put back, parts come in fast, the head finds gaps."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become, follow

from asfound.record.actions import add_parts, add_place
from asfound.record.models import Car, Part
from asfound.record.shelf import place_of

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def to(live_server, car: Car) -> Callable[..., str]:
    return lambda name, *more: live_server.url + reverse(name, args=(car.slug, *more))


def photograph(shade: int) -> Any:
    out = io.BytesIO()
    Image.new("RGB", (320, 240), (shade, 100, 70)).save(out, "JPEG")
    return {"name": "IMG.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


class Hand:
    """One hand at the bench: counts touches, and the letters that it types."""

    def __init__(self, page: Page) -> None:
        self.page, self.touches, self.letters = page, 0, 0

    def touch(self, target: Any) -> None:
        target.click()
        self.touches += 1

    def photograph(self, shade: int) -> None:
        """The camera opens by one touch; what it took comes back by itself."""
        with self.page.expect_file_chooser() as chosen:
            self.touch(self.page.get_by_label("photograph"))
        chosen.value.set_files(photograph(shade))

    def type(self, words: str) -> None:
        self.page.keyboard.type(words)
        self.letters += len(words)

    def keep(self) -> None:
        self.touch(self.page.get_by_role("button", name="Keep, and the next"))


def enter(hand: Hand, name: str, *, shade: int, place: str = "") -> None:
    """A part at the bench: photograph, name, place, next."""
    page = hand.page
    hand.photograph(shade)
    expect(page.get_by_label("what it is")).to_be_focused()
    hand.type(name)
    if place:
        hand.touch(page.get_by_label("where it goes"))
        hand.type(place)
    hand.keep()
    expect(page.get_by_role("status").filter(has_text=f"{name} is kept")).to_be_visible()


def test_a_part_takes_three_touches_and_the_next_of_its_box_two(
    page: Page, car: Car, live_server, to: Callable[..., str]
) -> None:
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(to("add-part"))
    hand = Hand(page)
    enter(hand, "seat runner", shade=40, place="box 4")
    assert hand.touches == 3
    assert hand.letters == len("seat runner") + len("box 4")
    before = hand.touches
    enter(hand, "spring pad", shade=80)
    assert hand.touches - before == 2
    runner, pad = car.parts.order_by("position")
    assert (runner.place, pad.place) == ("box 4", "box 4")
    for part in (runner, pad):
        photo = car.photos.get(subject=part.part)
        assert (photo.view, photo.stage) == ("whole", "before")
        assert place_of(photo.sha256).exists()


def test_without_a_network_parts_wait_with_their_photographs_and_are_kept_once(
    page: Page, car: Car, live_server, to: Callable[..., str]
) -> None:
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(to("add-part"))
    page.context.set_offline(True)
    for n, name in enumerate(("left hinge", "right hinge")):
        page.get_by_label("photograph").set_input_files(photograph(50 + 60 * n))
        page.get_by_label("what it is").fill(name)
        if not n:
            page.get_by_label("where it goes").fill("tray 2")
        page.get_by_role("button", name="Keep, and the next").click()
        expect(page.locator("[data-unsent-list]")).to_contain_text(name)
        expect(page.get_by_label("where it goes")).to_have_value("tray 2")
    page.context.set_offline(False)
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert list(car.parts.order_by("position").values_list("name", "place")) == [
        ("left hinge", "tray 2"),
        ("right hinge", "tray 2"),
    ]
    assert car.photos.count() == 2


def move(page: Page, place: str) -> None:
    page.get_by_label("goes to").fill(place)
    page.get_by_role("button", name="Move", exact=True).click()
    expect(page.locator(".where-now")).to_have_text(place)


def test_a_trimmer_strips_a_seat_and_puts_it_back(
    page: Page,
    car: Car,
    live_server,
    to: Callable[..., str],
    assert_accessible: Callable[[Page], None],
) -> None:
    (seat,) = add_parts(
        car=car,
        rows=[{"name": "driver's seat", "place": "in the car", "kind": "assembly"}],
        by=None,
    )
    add_place(name="rack 3", kind="shelf", by=None)
    page.set_viewport_size(PHONE)
    become(page, live_server, "trimmer")
    page.goto(to("part", seat.part))
    move(page, "bench")
    follow(page.get_by_role("link", name="Enter a part of it"))
    hand = Hand(page)
    for shade, name in enumerate(("seat cushion", "squab", "bag of tacks"), start=1):
        enter(hand, name, shade=40 * shade, place="rack 3" if shade == 1 else "")
    cushion = car.parts.get(name="seat cushion")
    assert cushion.parent == seat.part
    page.goto(to("part", cushion.part))
    follow(page.get_by_role("link", name="enter one"))
    page.get_by_role("button", name="glue line", exact=True).click()
    page.get_by_label("how far it goes").fill("all round")
    page.get_by_role("radio", name="0 trace").check()
    page.get_by_text("Apart from it: what you make of it").click()
    page.get_by_label("what you make of it").fill("a mat was sewn on later")
    page.get_by_role("button", name="Keep it, and the next").click()
    expect(page.get_by_role("status").filter(has_text="glue line")).to_be_visible()
    for part in car.parts.filter(parent=seat.part):
        page.goto(to("part", part.part))
        move(page, "driver's seat")
    page.goto(to("part", seat.part))
    assert_accessible(page)
    expect(page.get_by_role("heading", name="Parts of it")).to_be_visible()
    move(page, "in the car")
    assert_back(car, seat)
    finding = car.observations.current().get(table="findings")
    assert finding.cells["opinion_by"] == "trimmer"
    assert finding.subject == cushion.part


def assert_back(car: Car, seat: Part) -> None:
    """Everything is where it belongs, and every way it went is still told."""
    seat.refresh_from_db()
    assert seat.place == "in the car"
    assert set(car.parts.filter(parent=seat.part).values_list("place", flat=True)) == {
        "driver's seat"
    }
    moves = car.observations.filter(table="moves").order_by("position")
    of_seat = [row.cells["to_place"] for row in moves if row.subject == seat.part]
    assert of_seat == ["in the car", "bench", "in the car"]


def test_the_head_finds_what_is_missing(
    page: Page,
    car: Car,
    live_server,
    to: Callable[..., str],
    assert_accessible: Callable[[Page], None],
) -> None:
    rows = [
        {"name": "striker plate", "place": "box 4"},
        {"name": "glove box lock", "place": "box 4"},
        {"name": "wiper arm", "place": ""},
        {"name": "rear reflector", "place": "tray 2", "state": "missing"},
    ]
    add_parts(car=car, rows=rows, by=None)
    become(page, live_server, "head")
    page.goto(to("parts"))
    page.get_by_label("show").select_option(label="without a place")
    names = page.locator("#parts .index-name")
    expect(names).to_have_text(["wiper arm", "rear reflector"])
    assert_accessible(page)
    page.get_by_label("Find a part, a place, a number").fill("wiper")
    expect(names).to_have_text(["wiper arm"])
    page.get_by_role("link", name="wiper arm").click()
    expect(page.locator(".where-now")).to_have_text("place not known")
    move(page, "box 4")
    page.goto(to("parts"))
    page.get_by_label("show").select_option(label="without a place")
    expect(names).to_have_text(["rear reflector"])
    page.goto(to("wanted-photos"))
    missing = page.get_by_role("link", name="missing: 0001 striker plate, whole, before")
    expect(missing).to_be_visible()
    page.goto(live_server.url + reverse("search"))
    page.get_by_role("searchbox").fill("reflector")
    expect(page.locator("#found .index-name")).to_have_text(["rear reflector"])
