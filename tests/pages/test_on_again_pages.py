"""The page on which a part is told to be on again, and what the order of the rebuild then says."""

from __future__ import annotations

import csv
import io
import re

import pytest
from django.urls import reverse
from openpyxl import load_workbook
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, came_off, set_sheet, sheet_rows

DAY = "2026-11-20"
SCRIPT = {"HTTP_ACCEPT": "application/json"}


@pytest.fixture
def stripped(cast: Cast) -> Cast:
    rows = [
        {"part": "G", "name": "grille"},
        {"part": "R", "name": "radiator", "mass_kg": "31"},
        {"part": "W", "name": "water pump"},
        {"part": "T", "name": "fuel tank"},
    ]
    add_parts(car=cast.car, rows=rows, by=None)
    for part, after in (("R", "G"), ("W", "R")):
        came_off(car=cast.car, part=part, after=after, off_on="2026-11-02", by=None)
    link = {"before": "R", "after": "G", "why": "fluids", "note": "fill and bleed"}
    set_sheet(car=cast.car, table="rebuild_links", rows=[link], by=None)
    cast.car.refresh_from_db()
    return cast


def at(cast: Cast, name: str, *rest: str) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def off(cast: Cast) -> set[str]:
    cast.car.refresh_from_db()
    rows = sheet_rows(cast.car, "removals")
    return {r["part"] for r in rows if r.get("off_on") and not r.get("on_again")}


def test_a_touch_keeps_it_the_next_moves_up_and_it_is_taken_back(stripped: Cast) -> None:
    page = stripped.craft.get(at(stripped, "on-again")).content.decode()
    following, later = page.partition("Off, and waits")[::2]
    assert "Water pump" in following
    assert "Radiator" in later
    assert "fill and bleed" in later
    assert "2 people" in later
    typed = {"card": "W", "on": DAY, "key": "k1"}
    answer = stripped.craft.post(at(stripped, "on-again"), typed, follow=True).content.decode()
    assert "Kept: water pump is on again." in answer
    assert off(stripped) == {"R", "G"}
    assert "Radiator" in answer.partition("Off, and waits")[0]
    strip = stripped.craft.get(at(stripped, "strip")).content.decode()
    assert "1 of 3 pieces that came off is on again." in strip
    assert f"on again {DAY}" in strip
    address = re.search(r'action="([^"]*/undo/on-again/\d+/)"', answer)
    assert address
    stripped.craft.post(address[1])
    assert off(stripped) == {"R", "G", "W"}


def test_out_of_turn_it_is_kept_and_what_was_to_be_on_before_is_named(stripped: Cast) -> None:
    typed = {"part": "grille", "on": DAY, "key": "k1"}
    page = stripped.craft.post(at(stripped, "on-again"), typed, follow=True).content.decode()
    assert "grille was to go on after what is still off: radiator." in page
    assert off(stripped) == {"R", "W"}


def test_a_device_is_told_in_words_and_what_never_came_off_is_refused(stripped: Cast) -> None:
    typed = {"card": "W", "on": DAY, "key": "k1"}
    for _ in range(2):
        answer = stripped.craft.post(at(stripped, "on-again"), typed, **SCRIPT)
        assert answer.json()["next"] == at(stripped, "on-again")
    for part, told in (("T", "came off"), ("flux", "no single part"), ("", "no single part")):
        typed = {"part": part, "on": DAY, "key": f"k-{part}"}
        refused = stripped.craft.post(at(stripped, "on-again"), typed, **SCRIPT)
        assert refused.status_code == 422
        assert told in refused.json()["faults"][0]
    assert off(stripped) == {"R", "G"}


def test_both_orders_are_tables(stripped: Cast) -> None:
    rows = csv.DictReader(
        io.StringIO(stripped.craft.get(at(stripped, "rebuild-csv")).content.decode())
    )
    back = {row["name"]: row for row in rows}
    assert list(back) == ["water pump", "radiator", "grille"]
    assert [row["state"] for row in back.values()] == ["goes on next", "off", "off"]
    assert back["grille"]["after"] == "radiator (fluids, fill and bleed)"
    assert back["radiator"]["before"] == "grille (fluids, fill and bleed)"
    assert back["radiator"]["people"] == "2"
    text = stripped.craft.get(at(stripped, "strip-csv")).content.decode()
    assert {row["off_on"] for row in csv.DictReader(io.StringIO(text))} == {"2026-11-02"}
    book = load_workbook(io.BytesIO(stripped.craft.get(at(stripped, "strip-xlsx")).content))
    assert book.sheetnames == ["strip", "rebuild"]
    assert [row[3] for row in book["rebuild"].iter_rows(min_row=2, values_only=True)] == list(back)


def test_a_link_that_is_asked_for_no_longer_comes_back(stripped: Cast) -> None:
    page = at(stripped, "strip-piece", "R")
    answer = stripped.craft.post(page, {"step": "drop", "before": "R", "after": "G"}, follow=True)
    assert sheet_rows(stripped.car, "rebuild_links") == []
    address = re.search(r'action="([^"]*/undo/sheet/\d+/)"', answer.content.decode())
    assert address
    stripped.craft.post(address[1])
    (link,) = sheet_rows(stripped.car, "rebuild_links")
    assert link["note"] == "fill and bleed"


@pytest.mark.parametrize("name", ["on-again", "strip-csv", "rebuild-csv", "strip-xlsx"])
def test_an_owner_may_not_and_for_a_stranger_the_car_is_not_there(
    stripped: Cast, name: str
) -> None:
    assert stripped.owner.get(at(stripped, name)).status_code in {403, 404}
    assert stripped.stranger.get(at(stripped, name)).status_code == 404
