"""How a piece comes off and goes on is told on its page and shown in the rebuild."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, set_sheet, sheet_rows


@pytest.fixture
def stripped(cast: Cast) -> Cast:
    rows = [
        {"part": "E", "name": "engine", "mass_kg": "20"},
        {"part": "G", "name": "gearbox", "mass_kg": "9"},
        {"part": "R", "name": "radiator"},
        {"part": "B", "name": "brake pipe"},
        {"part": "F", "name": "filler cap"},
    ]
    add_parts(car=cast.car, rows=rows, by=None)
    joints = [
        {"part": "E", "comes_off_after": "R"},
        {"part": "G", "comes_off_after": "E"},
        {"part": "B", "comes_off_after": "G"},
    ]
    set_sheet(car=cast.car, table="joints", rows=joints, by=None)
    return cast


def page_of(cast: Cast, part: str) -> str:
    return reverse("strip-piece", args=(cast.car.slug, part))


def steps(cast: Cast) -> str:
    page = cast.craft.get(reverse("strip", args=(cast.car.slug,))).content.decode()
    return page.partition('id="back"')[2]


def test_people_fixings_and_bench_are_kept_and_marked_in_the_rebuild(stripped: Cast) -> None:
    typed = {"step": "how", "fragile": "2", "single_use": "yes", "people": "3"}
    answer = stripped.craft.post(page_of(stripped, "R"), typed, follow=True).content.decode()
    assert "Kept." in answer
    for part in "EG":
        stripped.craft.post(page_of(stripped, part), {"step": "how", "bench": "power unit"})
    told = steps(stripped)
    assert "Power unit: made up on the bench" in told
    assert "from the bench, 29 kg or more" in told  # 20 and 9 kg
    assert "2 people" in told  # 29 kg is more than one person lifts
    assert "3 people" in told
    assert told.index("from the bench") < told.index("<li>Radiator")
    assert "New fixings or seals:</b> radiator" in told
    stripped.car.refresh_from_db()
    stripped.craft.post(page_of(stripped, "R"), {"step": "how", "fragile": "3"})
    (row,) = [r for r in sheet_rows(stripped.car, "removals") if r["part"] == "R"]
    assert (row["fragile"], row["people"], row["single_use"]) == ("3", "", "")


def test_what_the_rebuild_asks_for_turns_the_order_and_is_taken_back(stripped: Cast) -> None:
    typed = {
        "step": "link",
        "side": "before",
        "other": "filler cap",
        "why": "fluids",
        "note": "fill the cooling first",
    }
    answer = stripped.craft.post(page_of(stripped, "R"), typed, follow=True).content.decode()
    assert "for fluids: fill the cooling first" in answer
    told = steps(stripped)
    assert "after radiator (fluids, fill the cooling first)" in told
    assert told.index("<li>Radiator") < told.index("<li>Filler cap")
    drop = {"step": "drop", "before": "R", "after": "F"}
    stripped.craft.post(page_of(stripped, "R"), drop)
    assert "fill the cooling first" not in steps(stripped)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"step": "how", "fragile": "7"}, "fragile"),
        ({"step": "link", "side": "after", "other": "flux", "why": ""}, "no other single part"),
        ({"step": "link", "side": "after", "other": "R", "why": ""}, "no other single part"),
    ],
)
def test_what_breaks_a_rule_is_asked_back(stripped: Cast, typed: dict[str, str], told: str) -> None:
    answer = stripped.craft.post(page_of(stripped, "R"), typed)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert sheet_rows(stripped.car, "removals") == []
    assert sheet_rows(stripped.car, "rebuild_links") == []


def test_an_owner_may_not_and_a_part_that_is_none_is_not_there(stripped: Cast) -> None:
    assert stripped.owner.get(page_of(stripped, "R")).status_code in {403, 404}
    assert stripped.craft.get(page_of(stripped, "flux")).status_code == 404
