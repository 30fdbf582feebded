"""Home again, on a phone: on again, a torque as a result, the last photograph, what is left."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PASSWORD, PHONE, become, follow
from tests.browser.test_surprise import shot
from tests.unit.record.test_worked import EIGHT, PEOPLE, SEWING, TASKS, after

from asfound.record.actions import (
    add_parts,
    came_off,
    create_account,
    lock_option,
    set_sheet,
    sheet_rows,
)
from asfound.record.actions.worked import start_work, stop_work
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def home(car: Car) -> Car:
    """The seats are off and were sewn for an hour and a half; two hours were thought."""
    create_account(username="issy", role="craftsperson", password=PASSWORD, by=None)
    for table, rows in (("tasks", TASKS), ("people", PEOPLE)):
        set_sheet(car=car, table=table, rows=rows, by=None)
    lock_option(car=car, subject="seats", option="mend", reason="they hold", by=None)
    parts = [{"part": "R", "name": "runners"}, {"part": "C", "name": "carpet"}]
    add_parts(car=car, rows=parts, by=None)
    came_off(car=car, part="C", after="R", off_on="2026-11-02", by=None)
    first = start_work(car=car, cells={**SEWING, "no_photo": "no light"}, by=None, at=EIGHT)
    assert first is not None
    stop_work(stretch=first, done=False, by=None, at=after(1.5))
    return Car.objects.get(pk=car.pk)


def test_what_came_off_goes_home_and_says_what_is_left(
    page: Page, live_server, home: Car, assert_accessible: Callable[[Page], None]
) -> None:
    become(page, live_server, "issy", PHONE)
    page.goto(live_server.url + reverse("strip", args=(home.slug,)))
    follow(page.get_by_role("link", name="Something is on again"))
    follow(page.get_by_role("button", name="It is on again: carpet"))
    expect(page.get_by_text("Kept: carpet is on again.")).to_be_visible()
    follow(page.get_by_role("button", name="It is on again: runners"))
    expect(page.get_by_text("Nothing is off.")).to_be_visible()

    page.goto(live_server.url + reverse("card", args=(home.slug,)) + "?task=S1")
    page.get_by_text("Result measured").click()
    page.get_by_role("button", name="torque", exact=True).click()
    page.get_by_label("value").fill("18")
    page.get_by_label("with which tool").fill("wrench 2")
    page.get_by_label("to be at least").fill("20")
    follow(page.get_by_role("button", name="Keep the result"))
    expect(page.get_by_text("torque 18 Nm (to be 20 or more Nm), outside").first).to_be_visible()
    page.get_by_label("photograph after").set_input_files(shot())  # type: ignore[arg-type]
    follow(page.get_by_role("button", name="It is done"))
    expect(page.get_by_text("Look at it again before it is used.")).to_be_visible()

    page.goto(live_server.url + reverse("ledger-steps", args=(home.slug,)))
    expect(page.get_by_text("decided to keep 90")).to_be_visible()
    page.get_by_label("still there, %").fill("88")
    follow(page.get_by_role("button", name="Keep what is left of seats"))
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert_accessible(page)
    (left,) = sheet_rows(Car.objects.get(pk=home.pk), "as_left")
    assert (left["kept"], left["by"]) == ("0.88", "Issy Corrand")
    page.goto(live_server.url + reverse("estimates"))
    # (1 + 4 · 2 + 4) / 6 hours were thought.
    expect(page.get_by_role("row", name="trimmer").first).to_contain_text("2.2 h")
    expect(page.get_by_role("row", name="trimmer").first).to_contain_text("1.5 h")
