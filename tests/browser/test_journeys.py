"""Journeys through the pages with pointer, keyboard and a phone's viewport."""

from __future__ import annotations

import hashlib
from itertools import product
from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import DESK, PASSWORD, PHONE, become, follow, tap_on
from tests.pages.small_car import small_car

from asfound.record.actions import create_account, grant_owner, load_car, release_room
from asfound.record.models import Car, FilmReading
from asfound.record.models.release import OwnersRoom

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    owner = create_account(username="owner", role="owner", password=PASSWORD, by=None)
    grant_owner(car=car, owner=owner, by=None)
    for room in OwnersRoom.values:
        release_room(car=car, room=room, by=None)
    return car


def tap_on_panel(page: Page, across: float, down: float) -> None:
    tap_on(page.locator("[data-panel-figure] svg"), across, down)


def test_the_head_goes_from_the_door_to_a_new_spot_on_a_phone(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    page.set_viewport_size(PHONE)
    page.goto(live_server.url)
    page.get_by_label("Username").fill("head")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("link", name="Orvelle Tansy").click()
    page.get_by_role("link", name="Survey", exact=True).click()
    follow(page.get_by_role("link", name="bonnet").last)
    expect(page.get_by_role("heading", name="bonnet")).to_be_visible()
    tap_on_panel(page, 0.5, 0.45)
    first = page.get_by_label("1st µm")
    expect(first).to_be_focused()
    for number in ("511", "514", "509"):
        page.keyboard.type(number)
        page.keyboard.press("Enter")
    expect(page.locator("[data-unsent-said]")).to_contain_text("Spot B9: 3 readings kept")
    expect(page.get_by_role("rowheader", name="B9").first).to_be_visible()
    expect(first).to_be_focused()
    kept = FilmReading.objects.filter(panel="bonnet", spot="B9")
    assert sorted(r.thickness_um for r in kept) == [509, 511, 514]
    assert all(250 < r.x_mm < 750 for r in kept)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    assert_accessible(page)


def test_what_is_entered_without_a_network_waits_and_is_sent_once(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("panel", args=(car.slug, "scuttle")))
    waiting = page.locator("[data-unsent-list]")
    page.context.set_offline(True)
    for across, numbers in ((0.3, ("480", "483", "481")), (0.7, ("490", "493", "491"))):
        tap_on_panel(page, across, 0.4)
        for number in numbers:
            page.keyboard.type(number)
            page.keyboard.press("Enter")
    expect(page.locator("[data-unsent-list]")).to_contain_text(
        "Waiting to be sent, scuttle: 480, 483, 481 µm"
    )
    expect(page.locator("[data-unsent-list]")).to_contain_text(
        "Waiting to be sent, scuttle: 490, 493, 491 µm"
    )
    assert not FilmReading.objects.filter(panel="scuttle").exists()
    page.context.set_offline(False)
    page.reload()
    # Either the return of the network or the reload sends it first; the other changes nothing.
    expect(page.get_by_role("rowheader", name="2").first).to_be_visible()
    expect(waiting).to_be_hidden()
    kept = FilmReading.objects.filter(panel="scuttle")
    assert sorted((r.spot, r.thickness_um) for r in kept) == [
        ("1", 480),
        ("1", 481),
        ("1", 483),
        ("2", 490),
        ("2", 491),
        ("2", 493),
    ]


def test_a_refused_spot_goes_back_into_the_form_and_outlives_a_reload(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("panel", args=(car.slug, "scuttle")))
    first = page.get_by_label("1st µm")
    tap_on_panel(page, 0.3, 0.4)
    first.fill("-480")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-unsent-list]")).to_contain_text("Refused, scuttle: -480 µm")
    tap_on_panel(page, 0.7, 0.4)
    first.fill("490")
    page.get_by_role("button", name="Put back into the form").click()
    expect(page.locator("[data-unsent-said]")).to_contain_text(
        "Keep or clear what stands in the form first."
    )
    expect(first).to_have_value("490")
    expect(page.locator("[data-unsent-list]")).to_contain_text("Refused, scuttle: -480 µm")
    first.fill("")
    page.get_by_role("button", name="Put back into the form").click()
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    page.reload()
    expect(first).to_have_value("-480")


def test_what_waits_is_sent_after_signing_in_again_in_another_tab(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer")
    page.goto(live_server.url + reverse("panel", args=(car.slug, "scuttle")))
    page.context.clear_cookies(name="sessionid")
    tap_on_panel(page, 0.3, 0.4)
    page.get_by_label("1st µm").fill("480")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-unsent-said]")).to_contain_text("Sign in again in another tab")
    other = page.context.new_page()
    other.goto(live_server.url)
    other.get_by_label("Username").fill("trimmer")
    other.get_by_label("Password").fill(PASSWORD)
    other.get_by_role("button", name="Sign in").click()
    expect(other.get_by_role("heading", name="Cars", exact=True)).to_be_visible()
    expect(page.locator("[data-unsent-list]")).to_be_hidden()
    assert FilmReading.objects.filter(panel="scuttle").count() == 1


def test_a_place_with_a_decimal_comma_is_marked_on_the_panel(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer")
    page.goto(live_server.url + reverse("panel", args=(car.slug, "scuttle")))
    page.get_by_label("x mm").fill("100,5")
    page.get_by_label("y mm").fill("50")
    comma = page.locator(".entry-mark").get_attribute("d")
    page.get_by_label("x mm").fill("100.5")
    assert comma == page.locator(".entry-mark").get_attribute("d")
    assert "NaN" not in str(comma)


def test_a_piece_on_paper_shows_its_ways_and_no_form(page: Page, car: Car, live_server) -> None:
    become(page, live_server, "head")
    page.goto(live_server.url + reverse("piece", args=(car.slug, "brakes")))
    page.emulate_media(media="print")
    expect(page.locator(".option-card").first).to_be_visible()
    expect(page.locator(".choose-line").first).to_be_hidden()
    expect(page.get_by_label("Why", exact=True)).to_be_hidden()


def test_targets_are_wide_enough_for_a_thumb(page: Page, car: Car, live_server) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("panel", args=(car.slug, "bonnet")))
    for control in page.locator("form[data-entry] :is(input, button):visible").all():
        box = control.bounding_box()
        assert box is not None
        assert box["height"] >= THUMB_PX
        assert box["width"] >= THUMB_PX


def test_a_file_with_odd_heads_is_matched_seen_and_written(
    page: Page, car: Car, live_server, tmp_path: Path, assert_accessible
) -> None:
    file = tmp_path / "gauge.csv"
    rows = "".join(f"scuttle;N{i};{100 * i};90;{490 + i},5\n" for i in range(1, 8))
    file.write_text("Bauteil;Stelle;Lage A;Lage B;Schicht\n" + rows, encoding="cp1252")
    become(page, live_server, "head")
    page.goto(live_server.url + reverse("load-film", args=(car.slug,)))
    assert_accessible(page)
    page.get_by_label("File of readings").set_input_files(file)
    page.get_by_role("button", name="Show what is in it").click()
    page.get_by_label("x, in the panel's mm").select_option(label="Lage A")
    page.get_by_label("y, in the panel's mm").select_option(label="Lage B")
    page.get_by_label("film, in µm").select_option(label="Schicht")
    follow(page.get_by_role("button", name="Check again"))
    assert_accessible(page)
    page.get_by_role("button", name="Write all 7 readings").click()
    expect(page.get_by_text("7 readings of gauge.csv are written.")).to_be_visible()
    assert FilmReading.objects.filter(panel="scuttle").count() == 7


def test_a_lock_with_a_reason_moves_what_is_kept_and_what_it_costs(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "head")
    page.goto(live_server.url + reverse("decisions", args=(car.slug,)))
    expect(page.locator(".tally .figure", has_text="88.3")).to_be_visible()
    assert_accessible(page)
    page.get_by_label("Filter as you type").fill("brak")
    expect(page.locator("#pieces tbody tr:visible")).to_have_count(1)
    page.get_by_role("link", name="brakes").click()
    expect(page.get_by_role("heading", name="What the choice says")).to_be_visible()
    assert_accessible(page)
    card = page.locator(".option-card", has_text="replace with new")
    card.get_by_label("Lock this one").check()
    page.get_by_label("Why", exact=True).fill("The housings are cracked through.")
    page.get_by_role("button", name="Lock with this reason").click()
    expect(page.locator(".tally .figure", has_text="78.3")).to_be_visible()
    expect(page.get_by_text("was 88.3")).to_be_visible()


def test_the_dossier_is_made_and_taken_home(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "head")
    page.goto(live_server.url + reverse("dossier", args=(car.slug,)))
    page.get_by_role("button", name="Make the dossier").click()
    link = page.get_by_role("link", name="Download")
    expect(link).to_be_visible()
    assert_accessible(page)
    with page.expect_download() as download:
        link.click()
    data = Path(download.value.path()).read_bytes()
    assert data.startswith(b"%PDF-")
    assert hashlib.sha256(data).hexdigest() in page.content()


def test_an_owner_sees_their_car_and_cannot_lock(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    other = small_car()
    load_car(folder=other, by=None, open_file=lambda kept: None, slug="another")  # type: ignore[arg-type,return-value]
    become(page, live_server, "owner")
    page.goto(live_server.url)
    expect(page.locator(".car-card")).to_have_count(1)
    page.goto(live_server.url + reverse("piece", args=(car.slug, "brakes")))
    expect(page.get_by_role("heading", name="brakes")).to_be_visible()
    expect(page.get_by_role("button", name="Lock with this reason")).to_have_count(0)
    assert_accessible(page)
    answer = page.goto(live_server.url + reverse("car", args=("another",)))
    assert answer is not None
    assert answer.status == 404
    assert_accessible(page)


def test_the_pages_can_be_walked_with_the_keyboard_alone(page: Page, car: Car, live_server) -> None:
    become(page, live_server, "head")
    page.goto(live_server.url + reverse("survey", args=(car.slug,)))
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#body")).to_be_focused()
    panel = page.locator(".survey-sheet svg a").first
    expect(panel).to_be_attached()
    panel.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="The reading")).to_be_visible()


@pytest.mark.parametrize(
    ("name", "rest", "settled"),
    [
        ("cars", None, "Orvelle Tansy"),
        ("car", (), "of the original fabric"),
        ("survey", (), "Measure here next"),
        ("panel", ("door left",), "The reading"),
        ("decisions", (), "Pieces"),
        ("piece", ("seats",), "What the choice says"),
        ("edit-brief", (), "Hours at most"),
        ("dossier", (), "Made so far"),
        ("load-car", None, "What happens"),
    ],
)
def test_every_page_is_accessible_and_fits_by_day_and_by_night(
    page: Page, car: Car, live_server, assert_accessible, name, rest, settled
) -> None:
    become(page, live_server, "head")
    address = live_server.url + reverse(name, args=() if rest is None else (car.slug, *rest))
    for size, scheme in product((PHONE, DESK), ("light", "dark")):
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size(size)
        page.goto(address)
        expect(page.get_by_text(settled).first).to_be_visible()
        expect(page.locator(".waiting")).to_have_count(0)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        body = page.evaluate("(({scrollHeight: s, clientHeight: c}) => [s, c])(document.body)")
        assert body[0] <= body[1], "something hangs out of the page's body"
        assert_accessible(page)


def test_the_place_stays_in_sight_when_the_number_pad_takes_half_of_the_phone(
    page: Page, car: Car, live_server
) -> None:
    become(page, live_server, "trimmer", PHONE)
    page.goto(live_server.url + reverse("panel", args=(car.slug, "bonnet")))
    tap_on_panel(page, 0.5, 0.3)
    page.set_viewport_size({"width": PHONE["width"], "height": 460})
    expect(page.locator(".entry-mark")).to_be_in_viewport()
    mark = page.locator(".entry-mark").bounding_box()
    bar = page.locator("form[data-entry]").bounding_box()
    assert mark is not None
    assert bar is not None
    assert mark["y"] + mark["height"] < bar["y"]
