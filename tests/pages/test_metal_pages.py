"""The pages of sheet metal: entering once, correcting, withdrawing, and what they say."""

from __future__ import annotations

import csv
import html
import io
import json
from typing import Any

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, set_sheet
from asfound.record.models import Observation

DOOR = ("panel", "door left")
NOMINAL = {"panel": "door left", "nominal": "20", "system": "SWG", "tolerance_mm": "0.05"}
GAUGE = {
    "instrument": "M3",
    "kind": "sheet thickness",
    "u": "0.02",
    "unit": "mm",
    "source": "trial",
}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def place(**changes: object) -> dict[str, Any]:
    typed = {"x_mm": "100", "y_mm": "90,5", "thickness_mm": ["0,61", "0.63", ""], "key": "k1"}
    return {**typed, "gauge": "M3", **changes}


def kept(cast: Cast) -> list[dict[str, str]]:
    return [row.cells for row in Observation.objects.current().filter(car=cast.car)]


def reading(cast: Cast, **changes: str) -> Observation:
    cells = {"panel": "door left", "x_mm": "100", "y_mm": "90", "thickness_mm": "0.6"}
    row = {**cells, "gauge": "M3", "taken_at": "2024-03-05", "by": "trimmer", **changes}
    (made,) = add_observations(car=cast.car, table="metal", rows=[row], by=None)
    return made


def grounds(cast: Cast, **more: str) -> None:
    set_sheet(car=cast.car, table="sheet_nominals", rows=[{**NOMINAL, **more}], by=None)
    set_sheet(car=cast.car, table="instruments", rows=[GAUGE], by=None)


def test_before_anything_is_read_the_page_says_what_to_do(cast: Cast) -> None:
    page = cast.head.get(at(cast, "metal")).content.decode()
    assert "Nothing is read yet" in page
    assert '<option value="door left">' in page


def test_choosing_a_panel_leads_to_its_page(cast: Cast) -> None:
    answer = cast.craft.get(at(cast, "metal"), {"on": " Door left"})
    assert answer["Location"] == at(cast, "metal-subject", *DOOR)


def test_a_name_that_nothing_has_is_told(cast: Cast) -> None:
    page = html.unescape(cast.craft.get(at(cast, "metal"), {"on": "wing"}).content.decode())
    assert "No panel or part is called “wing”" in page


def test_readings_are_kept_as_the_folder_writes_them_and_the_form_stays(cast: Cast) -> None:
    answer = cast.craft.post(at(cast, "metal-subject", *DOOR), place())
    assert answer["Location"] == at(cast, "metal-subject", *DOOR) + "?kept=k1#place"
    rows = kept(cast)
    assert [row["thickness_mm"] for row in rows] == ["0.61", "0.63"]
    assert {row["y_mm"] for row in rows} == {"90.5"}
    here = html.unescape(cast.craft.get(answer["Location"]).content.decode())
    finding = f"{at(cast, 'add-finding')}?subject=door+left&x={rows[0]['x_mm']}&y=90.5"
    assert finding in here
    assert {row["by"] for row in rows} == {"trimmer"}
    assert all(row["taken_at"] for row in rows)


def test_the_same_sending_is_kept_once(cast: Cast) -> None:
    for _ in range(2):
        cast.craft.post(at(cast, "metal-subject", *DOOR), place())
    assert len(kept(cast)) == 2
    cast.craft.post(at(cast, "metal-subject", *DOOR), place(key="k2"))
    assert len(kept(cast)) == 4


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"thickness_mm": ["0"]}, "a hole is a finding"),
        ({"thickness_mm": ["-1"]}, "thickness is “-1”"),
        ({"thickness_mm": ["", ""]}, "There is no reading"),
        ({"x_mm": ""}, "x is empty"),
        ({"x_mm": "2000"}, "1100 mm off the panel"),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_typed(
    cast: Cast, wrong: dict[str, Any], words: str
) -> None:
    answer = cast.craft.post(at(cast, "metal-subject", *DOOR), place(**wrong))
    assert answer.status_code == 422
    assert words in html.unescape(answer.content.decode())
    assert kept(cast) == []


def test_the_page_states_system_loss_and_what_may_hurt(cast: Cast) -> None:
    grounds(cast)
    reading(cast)
    page = html.unescape(cast.head.get(at(cast, "metal-subject", *DOOR)).content.decode())
    assert "20 SWG, 0.914 mm" in page
    assert "The loss of 0.31 mm exceeds the error" in page
    assert "Lead" in page
    assert "No dry sanding" in page
    assert "under local rules" in page
    assert 'data-panel="door left"' in page


def test_a_loss_within_the_error_is_not_told(cast: Cast) -> None:
    grounds(cast)
    reading(cast, thickness_mm="0.90")
    page = html.unescape(cast.head.get(at(cast, "metal")).content.decode())
    assert ">not certain</span>" in page
    assert "the sheet may be whole" in page
    subject = html.unescape(cast.head.get(at(cast, "metal-subject", *DOOR)).content.decode())
    assert "no loss can be told" in subject


def test_what_is_assumed_is_told_with_its_remedy(cast: Cast) -> None:
    reading(cast)
    page = html.unescape(cast.head.get(at(cast, "metal")).content.decode())
    assert "M3: a standard uncertainty of 0.05 mm is assumed" in page
    grounds(cast)
    assert "is assumed" not in cast.head.get(at(cast, "metal")).content.decode()


def test_remaining_life_stands_on_the_page(cast: Cast) -> None:
    """0.9144 to 0.6 mm from mid 1957 to March 2024; 0.1 mm above the least: 21 years."""
    grounds(cast, least_mm="0.5")
    reading(cast)
    page = html.unescape(cast.head.get(at(cast, "metal-subject", *DOOR)).content.decode())
    assert "21 years to 0.5 mm" in page
    assert "long rate" in page


def test_a_part_without_an_outline_is_read_too(cast: Cast) -> None:
    set_part = {"panel": "", "part": "frame", "x_mm": "1", "y_mm": "2", "thickness_mm": "2.4"}
    add_observations(car=cast.car, table="metal", rows=[set_part], by=None)
    page = cast.head.get(at(cast, "metal-subject", "part", "frame")).content.decode()
    assert "no outline" in page
    assert cast.craft.post(at(cast, "metal-subject", "part", "frame"), place()).status_code == 302
    assert len(kept(cast)) == 3


def test_a_correction_keeps_the_old_reading(cast: Cast) -> None:
    old = reading(cast)
    typed = {
        "step": "correct",
        "thickness_mm": "0,7",
        "x_mm": "100",
        "y_mm": "90",
        "reason": "slip",
    }
    cast.craft.post(at(cast, "metal-correct", old.pk), typed)
    assert [row["thickness_mm"] for row in kept(cast)] == ["0.7"]
    page = html.unescape(cast.head.get(at(cast, "metal-subject", *DOOR)).content.decode())
    assert "corrected to 0.7 mm: slip" in page


def test_a_correction_off_the_panel_is_refused(cast: Cast) -> None:
    old = reading(cast)
    typed = {"step": "correct", "thickness_mm": "0.7", "x_mm": "5000", "y_mm": "1", "reason": "s"}
    assert cast.craft.post(at(cast, "metal-correct", old.pk), typed).status_code == 422
    assert [row["thickness_mm"] for row in kept(cast)] == ["0.6"]


def test_a_withdrawal_wants_a_reason_and_is_kept(cast: Cast) -> None:
    old = reading(cast)
    address = at(cast, "metal-correct", old.pk)
    assert cast.craft.post(address, {"step": "withdraw", "reason": ""}).status_code == 422
    cast.craft.post(address, {"step": "withdraw", "reason": "on scale"})
    assert kept(cast) == []
    page = cast.head.get(at(cast, "metal-subject", *DOOR)).content.decode()
    assert "withdrawn: on scale" in page
    assert cast.craft.get(address).status_code == 302


def test_readings_and_result_can_be_taken_away(cast: Cast) -> None:
    grounds(cast)
    reading(cast)
    rows = list(csv.DictReader(io.StringIO(cast.owner.get(at(cast, "metal-csv")).content.decode())))
    assert rows[0]["thickness_mm"] == "0.6"
    result = json.loads(cast.owner.get(at(cast, "metal-json")).content)
    assert result["subjects"][0]["nominal"]["gauge"] == 20


def test_a_nominal_that_its_system_lacks_is_told_on_the_page(cast: Cast) -> None:
    reading(cast)
    set_sheet(car=cast.car, table="sheet_nominals", rows=[{**NOMINAL, "nominal": "99"}], by=None)
    page = html.unescape(cast.head.get(at(cast, "metal")).content.decode())
    assert "SWG has no such thickness" in page


def test_the_owner_reads_and_does_not_write(cast: Cast) -> None:
    old = reading(cast)
    page = cast.owner.get(at(cast, "metal-subject", *DOOR)).content.decode()
    assert 'id="entry"' not in page
    assert cast.owner.post(at(cast, "metal-subject", *DOOR), place()).status_code == 403
    assert cast.owner.get(at(cast, "metal-correct", old.pk)).status_code == 403


@pytest.mark.parametrize("name", ["metal", "metal-csv", "metal-json"])
def test_a_stranger_finds_nothing(cast: Cast, name: str) -> None:
    reading(cast)
    assert cast.stranger.get(at(cast, name)).status_code == 404


def test_what_is_not_there_is_not_found(cast: Cast) -> None:
    assert cast.head.get(at(cast, "metal-csv")).status_code == 404
    assert cast.head.get(at(cast, "metal-json")).status_code == 404
    assert cast.head.get(at(cast, "metal-subject", "panel", "spoiler")).status_code == 404


def test_more_readings_take_no_more_queries(cast: Cast, django_assert_max_num_queries) -> None:
    rows = [
        {"panel": "door left", "x_mm": str(10 * n), "y_mm": "50", "thickness_mm": "0.8"}
        for n in range(60)
    ]
    add_observations(car=cast.car, table="metal", rows=rows, by=None)
    with django_assert_max_num_queries(40):
        cast.head.get(at(cast, "metal"))
