"""Colour entered at the car with a phone, and seen on its page."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become, follow

from asfound.record.actions import add_observations, set_sheet
from asfound.record.models import Car, Observation

THUMB_PX = 44

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def signed_in(page: Page, live_server, car: Car) -> Callable[[str], None]:
    become(page, live_server, "trimmer")

    def go(address: str) -> None:
        page.goto(live_server.url + address)

    return go


def read_colours(car: Car) -> None:
    rows = [
        {
            "panel": panel,
            "x_mm": "100",
            "y_mm": "90",
            **dict(zip(("L", "a", "b"), lab, strict=True)),
            "exposure": exposure,
            "illuminant": "D65",
            "observer": "10",
        }
        for panel, lab, exposure in (
            ("bonnet", ("45", "-13", "18"), "exposed"),
            ("bonnet", ("42", "-16", "19"), "hidden"),
            ("scuttle", ("45", "-13", "18"), "exposed"),
            ("door left", ("46.5", "-11", "20"), "exposed"),
        )
    ]
    add_observations(car=car, table="colour", rows=rows, by=None)
    pairs = [{"panel": "bonnet", "other_panel": "door left"}]
    set_sheet(car=car, table="neighbours", rows=pairs, by=None)


def test_a_reading_is_tapped_typed_and_kept_with_a_thumb(
    page: Page, car: Car, signed_in, assert_accessible
) -> None:
    page.set_viewport_size(PHONE)
    signed_in(reverse("survey", args=(car.slug,)))
    follow(page.get_by_role("link", name="Colour", exact=True))
    follow(page.get_by_role("link", name="Enter readings"))
    follow(page.get_by_role("link", name="bonnet"))
    page.locator("[data-panel-figure] svg").click(position={"x": 120, "y": 100})
    expect(page.get_by_label("L*", exact=True)).to_be_focused()
    page.keyboard.type("45,2")
    page.get_by_label("a*", exact=True).fill("13.1")
    page.get_by_role("button", name="Change the sign of a*").click()
    expect(page.get_by_label("a*", exact=True)).to_have_value("-13.1")
    page.get_by_label("b*", exact=True).fill("18")
    page.get_by_text("hidden", exact=True).click()
    page.get_by_label("light (D65)").fill("D65")
    page.get_by_label("observer (2, 10)").fill("10")
    for name in ("Keep", "Change the sign of b*"):
        box = page.get_by_role("button", name=name, exact=True).bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= THUMB_PX
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    assert_accessible(page)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("status").first).to_contain_text("Kept: L* 45.2")
    expect(page.locator("summary", has_text="D65, observer 10")).to_be_visible()
    kept = Observation.objects.get(table="colour")
    assert [kept.cells[name] for name in ("L", "a", "b", "exposure")] == [
        "45.2",
        "-13.1",
        "18",
        "hidden",
    ]
    assert 0 < float(kept.cells["x_mm"]) < 1000


@pytest.mark.parametrize("width", [360, 1280])
def test_the_page_shows_seams_and_fills_in_the_film(
    page: Page, car: Car, signed_in, assert_accessible, width: int
) -> None:
    read_colours(car)
    page.set_viewport_size({"width": width, "height": 800})
    signed_in(reverse("colour", args=(car.slug,)))
    expect(page.get_by_role("heading", name="Film and colour together")).to_be_visible()
    expect(page.locator(".seams-figure")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") == width
    page.locator("summary", has_text="readings").click()
    expect(page.get_by_role("link", name="Correct 46.5")).to_be_visible()
    assert_accessible(page)
    follow(page.get_by_role("link", name="Correct 46.5"))
    page.get_by_label("Why").first.fill("misread")
    page.get_by_label("L*", exact=True).fill("45.5")
    assert_accessible(page)
    page.get_by_role("button", name="Correct it").click()
    expect(page.get_by_text("The colour reading is corrected")).to_be_visible()


def test_without_a_network_a_reading_waits_on_the_device(
    page: Page, car: Car, signed_in, live_server
) -> None:
    page.set_viewport_size(PHONE)
    signed_in(f"{reverse('enter-colour', args=(car.slug,))}?panel=door left&x=200&y=150")
    page.context.set_offline(True)
    page.get_by_text("hidden", exact=True).click()
    for label, typed in (("L*", "41.2"), ("a*", "-20.1"), ("b*", "9")):
        page.get_by_label(label, exact=True).fill(typed)
    page.get_by_role("button", name="Keep").click()
    waiting = page.locator("[data-unsent-list]")
    expect(waiting).to_contain_text("Waiting to be sent, door left, 41.2, -20.1, 9.")
    expect(page.get_by_role("radio", name="hidden")).to_be_checked()
    assert not car.observations.filter(table="colour").exists()
    page.context.set_offline(False)
    expect(waiting).to_be_hidden()
    (kept,) = car.observations.filter(table="colour")
    assert (kept.cells["L"], kept.cells["a"], kept.cells["exposure"]) == ("41.2", "-20.1", "hidden")
