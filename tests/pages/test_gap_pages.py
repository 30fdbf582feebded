"""The gaps' pages: edges begun, read along, held against twins, corrected."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, set_sheet, sheet_rows
from asfound.record.models import Observation

LEFT, RIGHT = "left door, rear", "right door, rear"


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def typed(**changes: str) -> dict[str, str]:
    cells = {"along_mm": "0", "gap_mm": "4,2", "flush_mm": "-0.5", "instrument": "taper gauge"}
    return {**cells, "key": "k1", **changes}


@pytest.fixture
def read(cast: Cast) -> Cast:
    """Left runs out by 3 mm over 600, right does not; right is held against 3 to 5 mm."""
    edges = [
        {"edge": LEFT, "twin": RIGHT, "least_mm": "3", "most_mm": "5"},
        {"edge": RIGHT, "twin": LEFT},
        {"edge": "boot lid, front"},
    ]
    set_sheet(car=cast.car, table="edges", rows=edges, by=None)
    rows = [
        {"edge": edge, "along_mm": str(300 * i), "gap_mm": str(gap), "flush_mm": "0.2"}
        for edge, gaps in ((LEFT, (4, 5.5, 7)), (RIGHT, (4, 4, 4)))
        for i, gap in enumerate(gaps)
    ]
    add_observations(car=cast.car, table="gaps", rows=rows, by=None)
    return cast


def test_a_car_without_edges_says_how_to_begin(cast: Cast) -> None:
    page = cast.craft.get(at(cast, "gaps")).content.decode()
    assert "Name the first edge below" in page


def test_an_edge_is_begun_with_its_twin(cast: Cast) -> None:
    cast.craft.post(at(cast, "begin-edge"), {"edge": LEFT})
    answer = cast.craft.post(at(cast, "begin-edge"), {"edge": f" {RIGHT} "})
    assert answer.url == at(cast, "edge", RIGHT) + "#entry"
    cast.car.refresh_from_db()
    rows = sheet_rows(cast.car, "edges")
    assert [(row["edge"], row["twin"]) for row in rows] == [(LEFT, ""), (RIGHT, LEFT)]
    cast.craft.post(at(cast, "begin-edge"), {"edge": RIGHT})
    assert sheet_rows(cast.car, "edges") == rows
    assert cast.craft.post(at(cast, "begin-edge"), {"edge": " "}).status_code == 422


def test_columns_of_the_workshop_s_own_stay_when_an_edge_is_begun(cast: Cast) -> None:
    own = {"edge": "lid", "seal": "rubber, renewed"}
    set_sheet(car=cast.car, table="edges", rows=[own], by=None)
    cast.craft.post(at(cast, "begin-edge"), {"edge": LEFT})
    cast.car.refresh_from_db()
    rows = sheet_rows(cast.car, "edges")
    assert [(row["edge"], row["seal"]) for row in rows] == [("lid", "rubber, renewed"), (LEFT, "")]


def test_edges_are_told_in_words_numbers_and_picture(read: Cast) -> None:
    page = read.head.get(at(read, "gaps")).content.decode()
    assert "runs out by +3.00" in page
    assert "too wide at its end" in page
    assert "Gap run-out clearly differs" in page
    assert f"Gap of {LEFT} and {RIGHT}" in page
    assert "not read yet" in page


def test_readings_go_in_one_after_the_other(cast: Cast) -> None:
    cast.craft.post(at(cast, "begin-edge"), {"edge": LEFT})
    where = at(cast, "edge", LEFT)
    assert 'value="0"' in cast.craft.get(where).content.decode()
    assert cast.craft.post(where, typed()).url == f"{where}#entry"
    cast.craft.post(where, typed(along_mm="150", key="k2"))
    page = cast.craft.get(where).content.decode()
    assert 'value="300"' in page
    assert 'value="taper gauge"' in page
    first = Observation.objects.earliest("pk")
    assert first.cells["gap_mm"] == "4.2"
    assert first.cells["flush_mm"] == "-0.5"
    assert first.cells["by"] == "trimmer"
    cast.craft.post(where, typed(along_mm="150", key="k2"))
    assert Observation.objects.count() == 2


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"gap_mm": "-1"}, "gap_mm"),
        ({"gap_mm": "wide"}, "must be a number"),
        ({"along_mm": ""}, "required"),
    ],
)
def test_what_breaks_a_rule_is_told_and_not_kept(
    cast: Cast, changes: dict[str, str], said: str
) -> None:
    cast.craft.post(at(cast, "begin-edge"), {"edge": LEFT})
    answer = cast.craft.post(at(cast, "edge", LEFT), typed(**changes))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Observation.objects.exists()


def test_one_reading_gives_a_sentence(cast: Cast) -> None:
    cast.craft.post(at(cast, "begin-edge"), {"edge": LEFT})
    cast.craft.post(at(cast, "edge", LEFT), typed())
    page = cast.craft.get(at(cast, "edge", LEFT)).content.decode()
    assert "needs readings at two places" in page
    assert "which is assumed" in page


def test_a_reading_is_corrected_and_withdrawn_with_a_reason(read: Cast) -> None:
    first, second = Observation.objects.order_by("pk")[:2]
    cells = {**first.cells, "gap_mm": "4.4", "step": "correct", "reason": "door not latched"}
    assert read.craft.post(at(read, "correct-gap", first.pk), cells).url == at(read, "edge", LEFT)
    read.craft.post(at(read, "correct-gap", second.pk), {"step": "withdraw", "reason": "on a jack"})
    first.refresh_from_db()
    second.refresh_from_db()
    assert first.superseded_by is not None
    assert first.superseded_by.cells["gap_mm"] == "4.4"
    assert not second.counts
    page = read.owner.get(at(read, "edge", LEFT)).content.decode()
    assert "door not latched" in page
    assert "withdrawn: on a jack" in page


def test_pictures_and_tables_can_be_taken_away(read: Cast) -> None:
    assert read.owner.get(at(read, "edge-svg", LEFT)).content.startswith(b"<svg")
    assert read.owner.get(at(read, "edge-svg", "boot lid, front")).status_code == 404
    assert read.owner.get(at(read, "gaps-csv")).content.decode().count(LEFT) == 3
    said = json.loads(read.owner.get(at(read, "gaps-json")).content)
    assert len(said["edges"]) == 3


def test_an_owner_reads_and_a_stranger_finds_nothing(read: Cast) -> None:
    assert "data-observed-entry" not in read.owner.get(at(read, "edge", LEFT)).content.decode()
    assert read.owner.post(at(read, "edge", LEFT), typed()).status_code == 403
    assert read.owner.post(at(read, "begin-edge"), {"edge": "new"}).status_code == 403
    for name, rest in (("gaps", ()), ("edge", (LEFT,)), ("gaps-json", ())):
        assert read.stranger.get(at(read, name, *rest)).status_code == 404
        assert read.nobody.get(at(read, name, *rest)).status_code == 302
    assert read.head.get(at(read, "edge", "roof")).status_code == 404


def test_an_edge_s_page_asks_the_record_a_bounded_number_of_times(
    read: Cast, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(30):
        read.craft.get(at(read, "edge", LEFT))
