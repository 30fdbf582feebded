"""A spreadsheet from a gauge: uploaded, matched once, recognised the next time, forgotten."""

from __future__ import annotations

import io

import openpyxl
import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from tests.browser.conftest import PHONE, become, follow

from asfound.record.models import Car, FilmReading

NAME = "blue gauge of the paint shop"

pytestmark = pytest.mark.django_db(transaction=True)


def gauge_file(spot: str, x_mm: float) -> dict[str, object]:
    """Three readings as a spreadsheet with a title above its head and a sheet of notes."""
    made = openpyxl.Workbook()
    sheet, notes = made.active, made.create_sheet("Notes")
    sheet.title = "Readings"
    notes.append(["Taken in the paint shop, doors open."])
    sheet.append(["Survey of the scuttle"])
    sheet.append([])
    sheet.append(["Point", "Across [mm]", "Down [mm]", "Layer"])
    for film in (498.5, 501, 499.25):
        sheet.append([spot, x_mm, 80, film])
    file = io.BytesIO()
    made.save(file)
    return {"name": "gauge.xlsx", "mimeType": "application/zip", "buffer": file.getvalue()}


def test_a_spreadsheet_is_matched_once_and_known_the_next_time(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "trimmer", PHONE)
    load = live_server.url + reverse("load-film", args=(car.slug,))

    upload(page, load, gauge_file("N1", 300))
    assert_accessible(page)
    which = page.get_by_role("group", name="Which column is which")
    expect(page.get_by_role("alert")).to_contain_text("fault")
    which.get_by_label("x, in the panel's mm").select_option("Across [mm]")
    which.get_by_label("y, in the panel's mm").select_option("Down [mm]")
    which.get_by_label("film, in µm").select_option("Layer")
    page.get_by_role("group", name="The same in every row").get_by_label("panel").select_option(
        "scuttle"
    )
    page.get_by_label("Remember this matching as").fill(NAME)
    page.get_by_role("button", name="Check again").click()
    expect(page.get_by_role("button", name="Write all 3 readings")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("button", name="Write all 3 readings").click()
    expect(page.get_by_text(f"remembered as “{NAME}”")).to_be_visible()
    films = FilmReading.objects.filter(panel="scuttle", spot="N1")
    assert sorted(films.values_list("thickness_um", flat=True)) == [498.5, 499.25, 501]

    upload(page, load, gauge_file("N2", 600))
    expect(page.get_by_text(f"Matched as for {NAME}")).to_be_visible()
    expect(page.get_by_role("button", name="Write all 3 readings")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("button", name=f"Forget {NAME}").click()
    expect(page.get_by_text("is forgotten")).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text("fault")


def test_places_off_the_panel_are_taken_only_when_that_is_said(
    page: Page, car: Car, live_server, assert_accessible
) -> None:
    become(page, live_server, "trimmer")
    text = "panel,spot,x_mm,y_mm,thickness_um\nscuttle,N1,3000,80,500\n"
    file = {"name": "gauge.csv", "mimeType": "text/csv", "buffer": text.encode()}
    upload(page, live_server.url + reverse("load-film", args=(car.slug,)), file)
    expect(page.get_by_text("the place lies 1800 mm off the panel scuttle")).to_be_visible()
    assert_accessible(page)
    page.get_by_label("Take places that lie off their panel all the same").check()
    page.get_by_role("button", name="Check again").click()
    page.get_by_role("button", name="Write the reading").click()
    expect(page.get_by_text("1 reading of gauge.csv is written")).to_be_visible()


def upload(page: Page, address: str, file: dict[str, object]) -> None:
    page.goto(address)
    page.get_by_label("File of readings").set_input_files(file)  # type: ignore[arg-type]  # a payload
    follow(page.get_by_role("button", name="Show what is in it"))
