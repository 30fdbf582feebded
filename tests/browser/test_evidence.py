"""Evidence on a phone and at a desk: written down, seen as a balance, printed, free of barriers."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PHONE, messages_lost
from tests.browser.test_findings import as_file, jpeg

from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    miles = [
        {"date": day, "reading": shown, "unit": "mile", "source": "book", "digits": "5"}
        for day, shown in (("1966", "41870"), ("1971", "38905"))
    ]
    set_sheet(car=car, table="odometer", rows=miles, by=None)
    return car


def test_evidence_is_written_down_on_a_phone_and_seen_as_a_balance(
    page: Page, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    at("add-evidence")
    page.get_by_label("Part or panel").fill("door left")
    page.get_by_label("Statement / its alternative").fill("undisturbed since built / later work")
    page.get_by_label("What speaks for or against").fill("overspray on the seal")
    page.get_by_label("Ratio", exact=True).fill("1/20")
    page.get_by_label("What the ratio rests on").select_option("experience")
    assert_accessible(page)
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Door left")
    expect(page.get_by_role("row", name="overspray on the seal")).to_contain_text("1/20")
    balance = page.get_by_role("img", name="door left:")
    expect(balance).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert_accessible(page)
    page.set_viewport_size(DESK)
    assert_accessible(page)
    page.get_by_role("link", name="readings of the film").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("door left")


def test_without_a_network_a_number_and_a_distance_wait_and_are_kept_once(
    page: Page, car: Car, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    at("add-number")
    waiting = page.locator("[data-unsent-list]")
    with messages_lost(page):
        page.get_by_label("photograph").set_input_files(as_file(jpeg()))
        page.get_by_role("button", name="axle", exact=True).click()
        page.get_by_label("as it reads").fill("AX 77")
        page.get_by_label("where it stands").fill("nose of the case")
        page.get_by_role("button", name="Keep it, and the next").click()
        expect(waiting).to_contain_text("Waiting to be sent, number, axle, AX 77.")
        expect(page.get_by_label("as it reads")).to_have_value("")
        at("add-miles")
        page.get_by_label("the figure").fill("41903")
        page.get_by_label("on which day").fill("1972-03-01")
        page.get_by_label("what says so").fill("the dial itself")
        page.get_by_role("button", name="Keep it, and see").click()
        expect(waiting).to_contain_text("Waiting to be sent, distance, 41903, mile, 1972-03-01.")
        page.reload()
        expect(waiting.get_by_role("listitem")).to_have_count(2)
        assert_accessible(page)
    expect(waiting).to_be_hidden()
    car.refresh_from_db()
    (row,) = (one for one in sheet_rows(car, "identifiers") if one["text_as_read"] == "AX 77")
    assert row["photo"] == car.photos.get().file
    assert [one["reading"] for one in sheet_rows(car, "odometer")] == ["41870", "38905", "41903"]


def test_with_a_network_each_button_leads_where_it_says(
    page: Page, at: Callable[..., None]
) -> None:
    at("add-miles")
    for button, heading in (("the next", "Write down a distance"), ("see whether", "Odometer")):
        page.get_by_label("the figure").fill("41903")
        page.get_by_label("on which day").fill("1972-03-01")
        page.get_by_label("what says so").fill("the dial itself")
        page.get_by_role("button", name=button).click()
        expect(page.get_by_text("Kept: 41903 mile, the dial itself.")).to_be_visible()
        expect(page.get_by_role("heading", level=1)).to_have_text(heading)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_pages_are_free_of_barriers(
    page: Page,
    at: Callable[..., None],
    assert_accessible: Callable[[Page], None],
    size: dict[str, int],
) -> None:
    page.set_viewport_size(size)  # type: ignore[arg-type]
    for name in ("evidence", "numbers", "odometer"):
        at(name)
        expect(page.locator(".waiting")).to_have_count(0)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        assert_accessible(page)


def test_the_numbers_check_prints_with_room_to_write(page: Page, at: Callable[..., None]) -> None:
    at("numbers")
    again = page.get_by_text("read again:").first
    expect(again).to_be_hidden()
    page.emulate_media(media="print")
    expect(again).to_be_visible()
    expect(page.get_by_role("link", name="Write down a number")).to_be_hidden()


def test_on_a_phone_an_item_leads_to_its_readings_and_is_doubted(
    page: Page, car: Car, at: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    item = {
        "subject": "door left",
        "statement": "fitted when built",
        "alternative": "fitted later",
        "item": "overspray on the seal",
        "lr": "0.05",
        "basis": "data",
        "cause": "seal",
        "by": "B. Ostler",
    }
    set_sheet(car=car, table="evidence", rows=[item], by=None)
    at("evidence-of", "door left")
    row = page.get_by_role("row", name="overspray on the seal")
    expect(row).to_contain_text("data; cause: seal; B. Ostler.")
    expect(page.get_by_role("link", name="readings of the film")).to_be_visible()
    row.get_by_role("link", name="doubt or withdraw").click()
    expect(page.get_by_role("region", name="What reads otherwise")).to_be_visible()
    assert_accessible(page)
    page.get_by_text("It is doubted").click()
    page.get_by_label("Why").fill("the seal was renewed")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("heading", name="Doubted or withdrawn")).to_be_visible()
    expect(page.get_by_text("doubted: the seal was renewed")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert_accessible(page)
