"""Findings at the car: a trimmer with a phone and one thumb, on a panel, a part, a photograph."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from typing import Any

import pytest
import shapely
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import PHONE, become, follow, messages_lost, tap_on

from asfound.exchange.photographs import take_in
from asfound.record.actions import add_observations, add_parts
from asfound.record.models import Car, Observation, Photo
from asfound.record.shelf import place_of

DENT = {"subject": "bonnet", "kind": "dent", "extent": "a spot", "severity": "1"}

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def to(live_server, car: Car) -> Callable[..., str]:
    return lambda name, *more: live_server.url + reverse(name, args=(car.slug, *more))


@pytest.fixture
def phone(page: Page, live_server, car: Car) -> Page:
    become(page, live_server, "trimmer", PHONE)
    return page


def jpeg(shade: int = 120) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (480, 360), (shade, 110, 80)).save(out, "JPEG")
    return out.getvalue()


def as_file(data: bytes) -> Any:
    return {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": data}


def keep_photo(car: Car, subject: str) -> Photo:
    told = {"subject": subject, "view": "whole", "stage": "before"}
    return take_in([("a.jpg", io.BytesIO(jpeg()))], car=car, by=None, **told).photos[0]


def kept(car: Car) -> Observation:
    return car.observations.current().get(table="findings")


def touch(page: Page, across: float, down: float, *, on: str = "[data-panel-figure] svg") -> None:
    figure = page.locator(on)
    figure.scroll_into_view_if_needed()
    tap_on(figure, across, down)


class Thumb:
    """A hand that counts how often it touches the screen."""

    def __init__(self, page: Page) -> None:
        self.page, self.touches = page, 0

    def word(self, words: str) -> None:
        self.page.get_by_role("button", name=words, exact=True).click()
        self.touches += 1

    def severity(self, words: str) -> None:
        self.page.get_by_role("radio", name=words).check()
        self.touches += 1

    def place(self, across: float, down: float, **more: str) -> None:
        touch(self.page, across, down, **more)
        self.touches += 1


def test_a_finding_on_a_panel_takes_five_touches_and_no_key(
    phone: Page, car: Car, to: Callable[..., str], assert_accessible: Callable[[Page], None]
) -> None:
    phone.goto(to("panel", "door left"))
    follow(phone.get_by_role("link", name="A finding on this panel"))
    expect(phone.get_by_role("heading", name="A finding on door left")).to_be_visible()
    assert_accessible(phone)
    thumb = Thumb(phone)
    thumb.place(0.5, 0.4)
    expect(phone.locator(".entry-mark")).to_be_attached()
    thumb.word("surface rust")
    thumb.word("along the edge")
    thumb.severity("2 moderate")
    thumb.word("Keep it, and the next")
    expect(phone.get_by_role("status").filter(has_text="Kept on door left")).to_be_visible()
    assert thumb.touches == 5
    cells = kept(car).cells
    told = {name: cells[name] for name in ("kind", "extent", "severity", "found_by")}
    assert told == {
        "kind": "surface rust",
        "extent": "along the edge",
        "severity": "2",
        "found_by": "trimmer",
    }
    assert 300 < float(cells["x_mm"]) < 600
    expect(phone.locator(".finding-mark")).to_have_count(1)
    assert_accessible(phone)


def test_a_place_tapped_on_the_survey_goes_along_to_the_finding(
    phone: Page, to: Callable[..., str]
) -> None:
    phone.goto(to("panel", "bonnet"))
    touch(phone, 0.5, 0.5)
    x_mm = phone.get_by_label("x mm").input_value()
    follow(phone.get_by_role("link", name="A finding on this panel"))
    expect(phone.locator(".entry-mark")).to_be_attached()
    expect(phone.locator("#id_x_mm")).to_have_value(x_mm)


def test_an_outline_is_drawn_corner_by_corner_and_tells_its_area(
    phone: Page, car: Car, to: Callable[..., str]
) -> None:
    phone.goto(f"{to('add-finding')}?subject=door left")
    phone.get_by_role("button", name="Outline", exact=True).click()
    for across, down in ((0.3, 0.3), (0.6, 0.3), (0.6, 0.5), (0.9, 0.9)):
        touch(phone, across, down)
    phone.get_by_role("button", name="Take back").click()
    expect(phone.locator("[data-place-said]")).to_contain_text("dm²")
    phone.get_by_role("button", name="filler", exact=True).click()
    phone.get_by_role("radio", name="1 slight").check()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.get_by_role("status").filter(has_text="Kept on door left")).to_be_visible()
    cells = kept(car).cells
    outline = shapely.from_wkt(cells["outline_wkt"])
    assert len(outline.exterior.coords) == 4
    assert cells["extent"] == f"{outline.area / 1e4:.3g} dm² outlined"
    assert outline.contains(shapely.Point(float(cells["x_mm"]), float(cells["y_mm"])))


def test_a_photograph_just_taken_is_marked_before_it_is_sent(
    phone: Page, car: Car, to: Callable[..., str], assert_accessible: Callable[[Page], None]
) -> None:
    (seat,) = add_parts(car=car, rows=[{"name": "driver's seat"}], by=None)
    data = jpeg()
    phone.goto(to("part", seat.part))
    follow(phone.get_by_role("link", name="enter one"))
    phone.get_by_label("photograph").set_input_files(as_file(data))
    preview = phone.locator("[data-mark-on]")
    expect(preview).to_be_visible()
    assert_accessible(phone)
    thumb = Thumb(phone)
    thumb.place(0.25, 0.5, on="[data-mark-on]")
    expect(preview.locator("ellipse")).to_have_count(2)
    thumb.word("seam open")
    phone.get_by_label("how far it goes").fill("180 mm")
    thumb.severity("2 moderate")
    thumb.word("Keep it, and the next")
    expect(phone.get_by_role("status").filter(has_text="Kept on driver's seat")).to_be_visible()
    photo, cells = car.photos.get(), kept(car).cells
    assert place_of(photo.sha256).read_bytes() == data
    assert cells["photo"] == photo.file
    ((left, top), (right, bottom)) = json.loads(cells["photo_marks"])[0]["points"]
    assert (left + right) / 2 == pytest.approx(0.25, abs=0.01)
    assert (top + bottom) / 2 == pytest.approx(0.5, abs=0.01)
    phone.goto(to("finding", kept(car).pk))
    expect(phone.locator("svg.finding-marks")).to_be_visible()
    assert_accessible(phone)


def test_a_ring_is_drawn_on_a_photograph_that_the_record_has(
    phone: Page, car: Car, to: Callable[..., str], assert_accessible: Callable[[Page], None]
) -> None:
    photo = keep_photo(car, "bonnet")
    before = place_of(photo.sha256).read_bytes()
    phone.goto(to("photo", photo.sha256))
    follow(phone.get_by_role("link", name="enter one here"))
    picture = phone.locator("[data-mark-on]")
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    assert box is not None
    phone.mouse.move(box["x"] + 0.2 * box["width"], box["y"] + 0.3 * box["height"])
    phone.mouse.down()
    phone.mouse.move(box["x"] + 0.6 * box["width"], box["y"] + 0.7 * box["height"], steps=4)
    phone.mouse.up()
    phone.get_by_role("button", name="stone chips", exact=True).click()
    phone.get_by_role("button", name="about half", exact=True).click()
    phone.get_by_role("radio", name="1 slight").check()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.get_by_role("status").filter(has_text="Kept on bonnet")).to_be_visible()
    ((left, top), (right, bottom)) = json.loads(kept(car).cells["photo_marks"])[0]["points"]
    assert (left, top, right, bottom) == pytest.approx((0.2, 0.3, 0.6, 0.7), abs=0.02)
    phone.goto(to("photo", photo.sha256))
    expect(phone.locator("svg.finding-marks .finding-number")).to_have_text("1")
    assert_accessible(phone)
    assert place_of(photo.sha256).read_bytes() == before
    assert not car.photos.exclude(superseded_by=None).exists()


def test_without_a_network_a_finding_waits_with_its_photograph_and_is_kept_once(
    phone: Page, car: Car, to: Callable[..., str]
) -> None:
    phone.goto(f"{to('add-finding')}?subject=bonnet")
    waiting = phone.locator("[data-unsent-list]")
    with messages_lost(phone):
        phone.get_by_label("photograph").set_input_files(as_file(jpeg(60)))
        phone.get_by_role("button", name="crazing", exact=True).click()
        phone.get_by_role("button", name="the whole", exact=True).click()
        phone.get_by_role("radio", name="1 slight").check()
        phone.get_by_role("button", name="Keep it, and the next").click()
        expect(waiting).to_contain_text("Waiting to be sent, bonnet, crazing, the whole.")
        expect(phone.get_by_label("what it is", exact=True)).to_have_value("")
        phone.reload()
        expect(waiting).to_contain_text("Waiting to be sent, bonnet, crazing, the whole.")
        assert not car.observations.exists()
    expect(waiting).to_be_hidden()
    assert kept(car).cells["photo"] == car.photos.get().file


def test_an_answer_lost_on_its_way_back_makes_no_second_finding(
    phone: Page, car: Car, to: Callable[..., str]
) -> None:
    phone.goto(f"{to('add-finding')}?subject=bonnet")
    lost = []

    def lose_the_first(route) -> None:
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch())
            route.abort()
        else:
            route.continue_()

    phone.route("**/findings/add/**", lose_the_first)
    phone.get_by_role("button", name="dent", exact=True).click()
    phone.get_by_role("button", name="a spot", exact=True).click()
    phone.get_by_role("radio", name="0 trace").check()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.locator("[data-unsent-list]")).to_be_hidden()
    expect(phone.locator("[data-unsent-said]")).to_contain_text("Sent: bonnet, dent, a spot.")
    assert car.observations.filter(table="findings").count() == 1


def test_what_breaks_a_rule_is_told_beside_the_form_that_keeps_what_was_typed(
    phone: Page, car: Car, to: Callable[..., str], assert_accessible: Callable[[Page], None]
) -> None:
    phone.goto(f"{to('add-finding')}?subject=bonnet")
    phone.get_by_label("what it is", exact=True).fill("dent from a hailstone")
    phone.get_by_role("radio", name="1 slight").check()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.locator("[data-unsent-faults]")).to_contain_text("How far does it go?")
    expect(phone.get_by_label("what it is", exact=True)).to_have_value("dent from a hailstone")
    assert_accessible(phone)
    phone.get_by_role("button", name="a spot", exact=True).click()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.get_by_role("status").filter(has_text="Kept on bonnet")).to_be_visible()
    assert kept(car).cells["kind"] == "dent from a hailstone"


def test_what_waited_and_was_refused_goes_back_into_the_form_with_its_photograph(
    phone: Page, car: Car, to: Callable[..., str], assert_accessible: Callable[[Page], None]
) -> None:
    phone.goto(f"{to('add-finding')}?subject=bonnet")
    with messages_lost(phone):
        phone.get_by_label("photograph").set_input_files(as_file(jpeg(60)))
        phone.get_by_label("what it is", exact=True).fill("dent from a hailstone")
        phone.get_by_role("radio", name="1 slight").check()
        phone.get_by_role("button", name="Keep it, and the next").click()
        expect(phone.locator("[data-unsent-list]")).to_contain_text("Waiting to be sent, bonnet")
    expect(phone.locator("[data-unsent-list]")).to_contain_text("How far does it go?")
    assert_accessible(phone)
    phone.get_by_label("what it is", exact=True).fill("dent")
    phone.get_by_role("button", name="Put back into the form").click()
    expect(phone.locator("[data-unsent-said]")).to_contain_text("Keep or clear what stands")
    phone.get_by_label("what it is", exact=True).fill("")
    phone.get_by_role("button", name="Put back into the form").click()
    expect(phone.get_by_label("what it is", exact=True)).to_have_value("dent from a hailstone")
    expect(phone.get_by_role("radio", name="1 slight")).to_be_checked()
    expect(phone.locator("[data-mark-on]")).to_be_visible()
    expect(phone.locator("[data-unsent-list]")).to_be_hidden()
    phone.get_by_role("button", name="a spot", exact=True).click()
    phone.get_by_role("button", name="Keep it, and the next").click()
    expect(phone.get_by_role("status").filter(has_text="Kept on bonnet")).to_be_visible()
    assert kept(car).cells["photo"] == car.photos.get().file


def test_everything_can_be_entered_by_keys_alone(
    page: Page, car: Car, live_server, to: Callable[..., str]
) -> None:
    photo = keep_photo(car, "bonnet")
    become(page, live_server, "trimmer")
    page.goto(f"{to('add-finding')}?photo={photo.sha256}")
    page.get_by_label("what it is", exact=True).focus()
    page.keyboard.type("crack")
    page.get_by_label("how far it goes").focus()
    page.keyboard.type("40 mm")
    page.get_by_role("radio", name="0 trace").focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    page.locator("summary", has_text="By numbers").focus()
    page.keyboard.press("Enter")
    for label, text in (("x mm", "300"), ("y mm", "200"), ("left %", "40"), ("top %", "60")):
        page.get_by_label(label, exact=True).focus()
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").filter(has_text="Kept on bonnet")).to_be_visible()
    cells = kept(car).cells
    assert (cells["severity"], cells["x_mm"], cells["photo"]) == ("3", "300", photo.file)


def test_without_scripts_a_finding_is_kept(
    browser: Browser, car: Car, live_server, to: Callable[..., str]
) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    become(page, live_server, "trimmer")
    page.goto(f"{to('add-finding')}?subject=bonnet")
    page.get_by_label("what it is", exact=True).fill("dent")
    page.get_by_label("how far it goes").fill("a spot")
    page.get_by_role("radio", name="1 slight").check()
    page.get_by_role("button", name="Keep it, and the next").click()
    expect(page.get_by_role("status").filter(has_text="Kept on bonnet")).to_be_visible()
    assert kept(car).cells["kind"] == "dent"
    context.close()


def test_every_page_is_accessible_and_fits_a_hand_and_a_desk(
    page: Page,
    car: Car,
    live_server,
    to: Callable[..., str],
    assert_accessible: Callable[[Page], None],
) -> None:
    photo = keep_photo(car, "bonnet")
    more = {
        **{"x_mm": "300", "y_mm": "200", "photo": photo.file, "severity": "4"},
        "photo_marks": '[{"kind": "ring", "points": [[0.2, 0.2], [0.4, 0.5]], "words": ""}]',
        **{"opinion": "hail", "opinion_by": "head", "active": "no", "advice": "leave it"},
    }
    rows = [{**DENT, **more}, {**DENT, "subject": "door left"}]
    (first, _) = add_observations(car=car, table="findings", rows=rows, by=None)
    become(page, live_server, "trimmer")
    for address in (
        *(to(name) for name in ("findings", "add-finding", "condition", "finding-kinds")),
        *(to("correct-finding", first.pk), to("panel", "bonnet"), to("photo", photo.sha256)),
    ):
        page.goto(address)
        for width in (1280, PHONE["width"]):
            page.set_viewport_size({"width": width, "height": 740})
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= width, address
        assert_accessible(page)


def test_the_list_narrows_as_one_types_and_leads_to_the_finding(
    phone: Page, car: Car, to: Callable[..., str]
) -> None:
    kinds = ("dent", "stone chips", "crazing")
    rows = [{**DENT, "kind": kind} for kind in kinds]
    add_observations(car=car, table="findings", rows=rows, by=None)
    phone.goto(to("findings"))
    phone.get_by_label("Find in what was found").fill("chip")
    expect(phone.locator("#findings .index-name")).to_have_count(1)
    phone.get_by_role("link", name="stone chips").click()
    expect(phone.get_by_role("heading", name="Stone chips")).to_be_visible()


def test_a_finding_is_corrected_withdrawn_and_taken_back_on_a_phone(
    phone: Page, car: Car, to: Callable[..., str]
) -> None:
    (row,) = add_observations(car=car, table="findings", rows=[DENT], by=None)
    phone.goto(to("finding", row.pk))
    follow(phone.get_by_role("link", name="Correct it"))
    phone.get_by_role("radio", name="3 serious").check()
    phone.get_by_label("why").fill("the metal is cracked in it")
    phone.get_by_role("button", name="Correct it").click()
    expect(phone.locator(".versions > li")).to_have_count(2)
    expect(phone.locator(".versions")).to_contain_text("severity: 1 → 3")
    phone.get_by_text("It should not count").click()
    phone.get_by_label("why").fill("another car")
    phone.get_by_role("button", name="Withdraw it").click()
    expect(phone.get_by_role("status").filter(has_text="is withdrawn")).to_be_visible()
    follow(phone.get_by_role("button", name="Undo"))
    assert kept(car).cells["severity"] == "3"
