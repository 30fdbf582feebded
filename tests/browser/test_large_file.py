"""A file of 2 GB chosen by mistake: the page says so, and nothing is sent."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.conf import settings
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import become

from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize("name", ["load-car", "add-part", "add-photos"])
def test_two_gigabytes_are_told_and_not_sent(
    page: Page,
    car: Car,
    live_server,
    tmp_path: Path,
    name: str,
) -> None:
    film = tmp_path / "film.jpg"
    with film.open("wb") as sink:
        sink.truncate(2_000_000_000)  # of no bytes on the disk
    become(page, live_server, "trimmer")
    sent: list[str] = []
    page.on("request", lambda asked: sent.append(asked.url) if asked.method == "POST" else None)
    page.goto(live_server.url + reverse(name, args=() if name == "load-car" else (car.slug,)))
    chooser = page.locator("input[type=file]").first
    chooser.set_input_files(film)
    if name == "add-photos":  # many at once: each is told by name, and the others would be sent
        page.get_by_role("button", name="Keep them").click()
        expect(page.locator("[data-faults]")).to_contain_text("film.jpg: It is 2000 MB")
    else:
        most_mb = settings.MAX_CAR_UPLOAD_BYTES // 1_000_000
        told = chooser.evaluate("one => one.validationMessage")
        assert told == f"film.jpg is 2000 MB large; the desk takes {most_mb} MB at most."
        page.locator("form:has(input[type=file]) button:not([type=button])").first.click()
        expect(chooser).to_be_focused()  # the browser points at what it refuses to send
    assert sent == []
    assert not car.photos.exists()
