"""The workshop's people are written once, and a held task says what it waits for."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.test_plan import SIZES, go
from tests.pages.test_plan_pages import LINKS, PEOPLE, TASKS

from asfound.record.actions import set_sheet
from asfound.record.actions.workshop import set_workshop
from asfound.record.models import Car

__all__ = ["go"]

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    """A car without people of its own; nobody in the workshop paints yet."""
    for table, rows in (("tasks", TASKS), ("task_links", LINKS)):
        set_sheet(car=car, table=table, rows=rows, by=None)
    set_workshop(table="people", rows=PEOPLE[:1], by=None)
    return car


def test_a_painter_is_written_down_and_the_owner_is_waited_for(
    car: Car, go: Callable[[str], None], page: Page, assert_accessible: Callable[[Page], None]
) -> None:
    def looked_at() -> None:
        for size in SIZES:
            page.set_viewport_size(size)  # type: ignore[arg-type]  # width and height
            assert_accessible(page)

    go(reverse("crew"))
    expect(page.get_by_text("Nobody has the trade “paint”")).to_be_visible()
    looked_at()
    page.get_by_role("link", name="Change: People and their hours").click()
    for column, cell in (("person", "Bo Linnet"), ("trades", "paint"), ("hours_per_day", "6")):
        page.locator(f"[name='2.{column}']").fill(cell)
    page.locator("[name='1.away']").fill("2026-01-01/..")
    page.get_by_role("button", name="Keep the table").click()
    expect(page.get_by_text("Ann Rook is away for ever").first).to_be_visible()
    looked_at()
    page.locator("[name='1.away']").fill("")
    page.get_by_role("button", name="Keep the table").click()
    expect(page.get_by_role("row", name="Bo Linnet")).to_be_visible()

    go(reverse("add-hold", args=(car.slug,)) + "?task=paint")
    page.get_by_label("waits for").select_option("owner must see")
    page.get_by_label("why").fill("two shades lie beside the wing")
    page.get_by_label("expected to end on").fill("2026-03-20")
    looked_at()
    page.get_by_role("button", name="Hold it").click()
    expect(page.get_by_text("Held: the owner must see it")).to_be_visible()
    go(reverse("plan", args=(car.slug,)))
    told = page.get_by_text("waits for the owner to see it since")
    expect(told.first).to_be_visible()
    looked_at()
    page.get_by_role("link", name="What is held").click()
    expect(page.get_by_text("two shades lie beside the wing")).to_be_visible()
    looked_at()
