"""A trimmer's day on a phone: begin, find something, write down material and result, be done."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone
from PIL import Image
from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import DESK, PASSWORD, PHONE, become, follow
from tests.unit.record.test_worked import PEOPLE, TASKS

from asfound.record.actions import add_parts, create_account, lock_option, set_sheet
from asfound.record.convert.worked import stretch_of
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    create_account(username="issy", role="craftsperson", password=PASSWORD, by=None)
    for table, rows in (("tasks", TASKS), ("people", PEOPLE)):
        set_sheet(car=car, table=table, rows=rows, by=None)
    lock_option(car=car, subject="seats", option="mend", reason="they hold", by=None)
    lock_option(car=car, subject="door finish", option="keep", reason="as it is", by=None)
    return car


@pytest.fixture
def go(page: Page, live_server, car: Car) -> Callable[[str], None]:
    become(page, live_server, "issy", PHONE)
    return lambda path: page.goto(live_server.url + path) and None


def test_a_trimmers_day_on_a_phone(
    car: Car, go, page: Page, assert_accessible, tmp_path: Path
) -> None:
    Image.new("RGB", (64, 48), (120, 90, 60)).save(tmp_path / "before.jpg")
    Image.new("RGB", (64, 48), (140, 110, 80)).save(tmp_path / "after.jpg")
    go("/")
    page.get_by_role("link", name="Today's cards").click()
    expect(page.get_by_text("Issy Corrand, ")).to_be_visible()
    assert_accessible(page)
    follow(page.get_by_role("link", name="Re-sew the seats"))
    here = page.url

    page.get_by_label("photograph before").set_input_files(tmp_path / "before.jpg")
    tick = page.get_by_label("I have read the cautions")
    if tick.count():
        tick.check()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", name="Your time runs")).to_be_visible()

    page.get_by_text("Material used").click()
    page.get_by_label("material", exact=True).fill("linen thread")
    page.get_by_label("batch").fill("L 77")
    page.get_by_role("button", name="Keep the material").click()
    expect(page.get_by_text("linen thread, batch L 77").first).to_be_visible()
    page.get_by_text("Result measured").click()
    page.get_by_label("what was measured").fill("depth")
    page.get_by_label("value").fill("3.5")
    page.locator("#result_unit").fill("mm")
    page.get_by_label("with which tool").fill("rule 2")
    for size in (PHONE, DESK):
        page.set_viewport_size(size)
        assert_accessible(page)
    page.set_viewport_size(PHONE)
    page.get_by_role("button", name="Keep the result").click()
    expect(page.get_by_text("depth 3.5 mm, with rule 2").first).to_be_visible()

    page.get_by_role("link", name="I found something").click()
    expect(page).to_have_url(re.compile("findings/add"))
    page.goto(here)
    page.get_by_role("button", name="Pause").click()
    expect(page.get_by_role("heading", name="Paused")).to_be_visible()
    page.get_by_role("button", name="Go on").click()
    expect(page.get_by_role("heading", name="Your time runs")).to_be_visible()
    page.get_by_label("photograph after").set_input_files(tmp_path / "after.jpg")
    page.get_by_role("button", name="It is done").click()
    expect(page.get_by_text("Re-sew the seats is done.")).to_be_visible()
    expect(page.get_by_role("link", name="Re-sew the seats")).to_have_count(0)

    page.goto(here)
    page.get_by_role("link", name="seats", exact=True).click()
    expect(page.get_by_role("heading", name="Treatment of seats")).to_be_visible()
    expect(page.get_by_role("img", name="seats: whole, after")).to_be_visible()
    assert_accessible(page)
    go(reverse("work", args=(car.slug,)))
    expect(page.get_by_text("1 of 3 tasks done")).to_be_visible()
    assert_accessible(page)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= PHONE["width"]


class Thumb:
    """Touches counted; what is typed after one costs none."""

    def __init__(self) -> None:
        self.taps = 0

    def __call__(self, *places: Locator) -> int:
        for place in places:
            place.click()
        self.taps += len(places)
        return len(places)


def test_few_taps_lead_through_the_day(car: Car, go, page: Page) -> None:
    def button(name: str) -> Locator:
        return page.get_by_role("button", name=name, exact=True)

    go("/")
    tap = Thumb()
    tap(page.get_by_role("link", name="Today's cards"), page.get_by_role("link", name="Re-sew the"))
    page.get_by_label("or why there is none").first.fill("the camera is away")
    tick = page.get_by_label("I have read the cautions")
    tap(*([tick] if tick.count() else []), button("Begin"))
    expect(page.get_by_role("heading", name="Your time runs")).to_be_visible()
    assert tap.taps <= 4, "from the first page to running time"
    assert tap(button("Pause")) == 1
    expect(page.get_by_role("heading", name="Paused")).to_be_visible()
    assert tap(button("Go on")) == 1, "what was read today is not asked again"
    expect(page.get_by_role("heading", name="Your time runs")).to_be_visible()

    assert tap(page.get_by_text("Material used")) == 1
    expect(page.get_by_label("material", exact=True)).to_be_focused()
    page.keyboard.type("linen thread")
    page.keyboard.press("Tab")
    page.keyboard.type("L 77")
    tap(button("Keep the material"))
    expect(page.locator(".work-entries").get_by_text("L 77")).to_have_count(1)
    again = (
        page.get_by_text("Material used"),
        button("linen thread, L 77"),
        button("Keep the material"),
    )
    assert tap(*again) == 3, "the same once more, nothing typed"
    expect(page.locator(".work-entries").get_by_text("linen thread, batch L 77")).to_have_count(2)

    tap(page.get_by_text("Result measured"), button("clearance"))
    page.keyboard.type("0.3")
    page.get_by_label("with which tool").fill("feeler 1")
    tap(button("Keep the result"))
    expect(page.locator(".work-entries").get_by_text("with feeler 1")).to_have_count(1)
    tap(page.get_by_text("Result measured"), button("clearance"))
    page.keyboard.type("0.35")
    tap(button("Keep the result"))
    expect(page.get_by_text("clearance 0.35 mm, with feeler 1").first).to_be_visible()


def photograph(shade: int) -> Any:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), (shade, 90, 60)).save(out, "JPEG")
    return {"name": "IMG.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def find_something(page: Page) -> None:
    """A finding on the card's piece, with a photograph; then back to the card."""
    here = page.url
    page.get_by_role("link", name="I found something").click()
    expect(page.get_by_role("heading", name="A finding on seats")).to_be_visible()
    expect(page.get_by_text("this page is from this device")).to_be_visible()
    page.get_by_label("photograph").set_input_files(photograph(200))
    page.get_by_label("what it is", exact=True).fill("seam open")
    page.get_by_label("how far it goes").fill("180 mm")
    page.get_by_role("radio", name="2 moderate").check()
    page.get_by_role("button", name="Keep it, and the next").click()
    expect(page.locator("[data-unsent-list]")).to_contain_text("seats, seam open, 180 mm")
    page.goto(here)


def test_a_day_without_a_network_is_kept_on_the_device_and_sent_once(
    car: Car, go, page: Page
) -> None:
    (part,) = add_parts(car=car, rows=[{"name": "seats"}], by=None)
    car.subjects.filter(subject="seats").update(extra={"part": part.part})
    missed: list[str] = []
    page.on("response", lambda got: missed.append(got.url) if got.status >= 400 else None)
    go(reverse("todays-cards"))
    expect(page.get_by_text("1 card is on this device")).to_be_visible()
    assert not missed
    page.context.set_offline(True)
    page.get_by_role("link", name="Re-sew the seats").click()
    expect(page.get_by_text("this page is from this device")).to_be_visible()
    waiting, stands = page.locator("[data-unsent-list]"), page.locator("#work-time")

    page.get_by_label("photograph before").set_input_files(photograph(100))
    page.get_by_role("button", name="Begin").click()
    expect(stands).to_have_text("Your time runs", use_inner_text=True)
    expect(waiting).to_contain_text("Waiting to be sent, begin, Re-sew the seats")
    page.locator("summary", has_text="Photograph").click()
    page.get_by_label("photograph", exact=True).set_input_files(photograph(120))
    page.get_by_label("when").select_option("during")
    page.get_by_role("button", name="Keep the photograph").click()
    expect(waiting).to_contain_text("photograph, Re-sew the seats, during")
    page.get_by_text("Material used").click()
    page.get_by_label("material", exact=True).fill("linen thread")
    page.get_by_label("batch").fill("L 77")
    page.get_by_role("button", name="Keep the material").click()
    expect(waiting).to_contain_text("linen thread, L 77")
    page.get_by_text("Result measured").click()
    page.get_by_role("button", name="torque", exact=True).click()
    page.get_by_label("value").fill("24")
    page.get_by_label("with which tool").fill("wrench 2")
    page.get_by_role("button", name="Keep the result").click()
    expect(waiting).to_contain_text("torque, 24, Nm")
    find_something(page)
    expect(stands).to_have_text("Your time runs", use_inner_text=True)
    page.wait_for_timeout(1_500)  # a pause that is told later must not last until then
    page.get_by_role("button", name="Pause").click()
    expect(stands).to_have_text("Paused", use_inner_text=True)
    pressed = timezone.now()
    page.reload()
    expect(stands).to_have_text("Paused", use_inner_text=True)
    page.get_by_role("button", name="Go on").click()
    expect(stands).to_have_text("Your time runs", use_inner_text=True)
    page.get_by_label("photograph after").set_input_files(photograph(140))
    page.get_by_role("button", name="It is done").click()
    expect(stands).to_have_text("Done", use_inner_text=True)
    expect(waiting.locator("li")).to_have_count(8)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    assert not car.observations.exists()

    page.context.set_offline(False)
    expect(waiting).to_be_hidden()
    expect(stands).to_have_text("Done", use_inner_text=True)
    rows = list(car.observations.current().order_by("pk"))
    tables = ["findings", "materials_used", "results", "worked", "worked"]
    assert sorted(row.table for row in rows) == tables
    first, second = (stretch_of(row.cells) for row in rows if row.table == "worked")
    assert first.begun is not None
    assert first.ended is not None
    assert first.ended - first.begun >= timedelta(seconds=1)
    assert first.ended <= pressed + timedelta(seconds=1)
    assert second.done
    stages = car.photos.current().order_by("position").values_list("stage", flat=True)
    assert list(stages) == ["before", "during", "before", "after"]
