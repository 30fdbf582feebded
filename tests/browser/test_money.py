"""An invoice entered on a phone, and the account read on a desk; axe on each page."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become, follow, messages_lost

from asfound.record.actions.money import set_money
from asfound.record.models import Car

TAX = {"name": "standard", "percent": "20", "from_on": "2020-01-01", "charged": "yes"}

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def car(car: Car) -> Car:
    set_money(tax_rates=[TAX], charge_rates=[{"trade": "trimmer", "rate": "50"}], by=None)
    return car


def test_an_invoice_from_the_phone(page: Page, car: Car, live_server, assert_accessible) -> None:
    become(page, live_server, "head", PHONE)
    page.goto(live_server.url + reverse("money", args=(car.slug,)))
    follow(page.get_by_role("link", name="Enter an invoice or order"))
    assert_accessible(page)
    page.get_by_label("the paper").set_input_files(
        {"name": "invoice.pdf", "mimeType": "application/pdf", "buffer": b"%PDF-1.7 invented"}
    )
    page.get_by_label("supplier").fill("Halder Plating")
    page.get_by_label("its number").fill("R-17")
    page.get_by_label("without tax").first.fill("120,50")
    waiting = page.locator("[data-unsent-list]")
    with messages_lost(page):
        page.get_by_role("button", name="Keep it").click()
        expect(waiting).to_contain_text("Waiting to be sent, invoice, Halder Plating, R-17.")
        page.reload()
        expect(waiting).to_contain_text("Halder Plating, R-17.")
    expect(page.get_by_text("Sent: invoice, Halder Plating, R-17.")).to_be_visible()
    page.goto(live_server.url + reverse("money", args=(car.slug,)))
    expect(page.get_by_text("Invoice R-17, Halder Plating")).to_be_visible()
    expect(page.get_by_role("row", name="with tax")).to_contain_text("144.60")
    assert_accessible(page)
    follow(page.get_by_role("link", name="Invoice R-17"))
    expect(page.locator(".money-paper")).to_have_count(1)
    assert_accessible(page)
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto(live_server.url + reverse("money-settings"))
    assert_accessible(page)
