"""The polishing's pages: wedge maps, entering a spot before and after, correcting, floors."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, set_sheet
from asfound.record.models import Observation


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def typed(**changes: object) -> dict[str, object]:
    cells = {
        "spot": "B1",
        "before_um": "",
        "after_um": ["490", "492,5", "491"],
        "passes": "3",
        "area": "",
        "process": "soft pad",
        "gauge": "gauge A",
        "x_mm": "",
        "y_mm": "",
        "key": "k1",
    }
    return {**cells, **changes}


@pytest.fixture
def polished(cast: Cast) -> Cast:
    """Five spots of the bonnet, 2 µm a pass, against a guessed floor of 400 µm."""
    rows = [
        {
            "panel": "bonnet",
            "spot": f"B{i}",
            "before_um": str(500 + i),
            "after_um": f"{500 + i - 6 + 0.2 * (-1) ** i:g}",
            "passes": "3",
            "process": "soft pad",
            "gauge": "gauge A",
            "taken_at": "2026-05-13T09:00:00Z",
            "by": "trimmer",
        }
        for i in range(1, 6)
    ]
    add_observations(car=cast.car, table="polish", rows=rows, by=None)
    floor = {"panel": "bonnet", "floor_um": "400", "basis": "guess"}
    set_sheet(car=cast.car, table="polish_floors", rows=[floor], by=None)
    return cast


def test_a_car_that_nobody_polished_says_how_to_begin(cast: Cast) -> None:
    page = cast.craft.get(at(cast, "polish")).content.decode()
    assert "Nothing was read before and after polishing" in page
    assert at(cast, "polish-panel", "scuttle") in page
    assert "No dry sanding" in page


def test_the_page_shows_wedges_numbers_and_the_guess(polished: Cast) -> None:
    page = polished.head.get(at(polished, "polish")).content.decode()
    assert "film above the floor at each spot" in page
    assert "more passes, held by spot" in page
    assert "The floor is a guess" in page
    assert "Soft pad" in page


def test_more_asked_chance_leaves_fewer_passes(polished: Cast) -> None:
    def passes(chance: str) -> int:
        answer = polished.head.get(at(polished, "polish-json"), {"chance": chance})
        (process,) = json.loads(answer.content)["areas"][0]["processes"]
        return int(process["passes"])

    assert passes("99.9") < passes("60")


def test_a_chance_that_is_none_is_said_beside_its_field(polished: Cast) -> None:
    page = polished.head.get(at(polished, "polish"), {"chance": "12"}).content.decode()
    assert "greater than or equal to 50" in page
    assert "more passes" in page


def test_a_spot_read_on_the_panel_is_offered_and_its_mean_is_the_before(cast: Cast) -> None:
    page = cast.craft.get(at(cast, "polish-panel", "bonnet"), {"spot": "B1"}).content.decode()
    film = [f.thickness_um for f in cast.car.film_readings.filter(panel="bonnet", spot="B1")]
    mean_um = f"{round(sum(film) / 3, 1):g}"
    assert f"B1: {mean_um} µm" in page
    answer = cast.craft.post(at(cast, "polish-panel", "bonnet"), typed())
    assert answer.status_code == 302
    assert answer.url.endswith("/#entry")
    kept = Observation.objects.get(table="polish")
    assert kept.cells["before_um"] == mean_um
    assert kept.cells["after_um"] == "491.2"
    assert kept.cells["x_mm"] == "150"
    assert kept.cells["by"] == "trimmer"


def test_what_is_sent_twice_is_kept_once(cast: Cast) -> None:
    for _ in range(2):
        cast.craft.post(at(cast, "polish-panel", "bonnet"), typed())
    assert Observation.objects.filter(table="polish").count() == 1


def test_a_new_spot_is_named_and_needs_its_before(cast: Cast) -> None:
    where = at(cast, "polish-panel", "scuttle")
    refused = cast.craft.post(where, typed(spot=""))
    assert refused.status_code == 422
    assert "before_um" in refused.content.decode()
    cast.craft.post(where, typed(spot="", before_um="500", x_mm="80", y_mm="90"))
    kept = Observation.objects.get(table="polish")
    assert (kept.cells["spot"], kept.cells["before_um"]) == ("P1", "500")


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"passes": "0"}, "passes"),
        ({"passes": "1,5"}, "whole number"),
        ({"after_um": ["-4", "", ""]}, "after is"),
        ({"after_um": ["", "", ""]}, "after_um"),
        ({"x_mm": "left"}, "must be a number"),
    ],
)
def test_what_breaks_a_rule_is_told_and_not_kept(
    cast: Cast, changes: dict[str, object], said: str
) -> None:
    answer = cast.craft.post(at(cast, "polish-panel", "bonnet"), typed(**changes))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Observation.objects.exists()


def test_a_reading_is_corrected_with_a_reason_and_the_old_one_kept(polished: Cast) -> None:
    old = Observation.objects.filter(table="polish").earliest("pk")
    where = at(polished, "correct-polish", old.pk)
    cells = {**old.cells, "step": "correct", "after_um": "493", "reason": "read beside the spot"}
    assert polished.craft.post(where, cells).url == at(polished, "polish-panel", "bonnet")
    old.refresh_from_db()
    assert old.superseded_by is not None
    assert old.superseded_by.cells["after_um"] == "493"
    page = polished.owner.get(at(polished, "polish-panel", "bonnet")).content.decode()
    assert "read beside the spot" in page
    assert "<s>" in page


def test_a_reading_is_withdrawn_only_with_a_reason_and_once(polished: Cast) -> None:
    old = Observation.objects.filter(table="polish").earliest("pk")
    where = at(polished, "correct-polish", old.pk)
    assert polished.craft.post(where, {"step": "withdraw", "reason": ""}).status_code == 422
    polished.craft.post(where, {"step": "withdraw", "reason": "wet"})
    old.refresh_from_db()
    assert not old.counts
    again = polished.craft.get(where, follow=True).content.decode()
    assert "nothing was changed" in again


def test_pictures_and_tables_can_be_taken_away(polished: Cast) -> None:
    picture = polished.owner.get(at(polished, "polish-svg", "bonnet"))
    assert picture["Content-Type"] == "image/svg+xml"
    assert picture.content.startswith(b"<svg")
    assert polished.owner.get(at(polished, "polish-svg", "scuttle")).status_code == 404
    table = polished.owner.get(at(polished, "polish-csv")).content.decode()
    assert table.count("soft pad") == 5


def test_an_owner_reads_and_a_stranger_finds_nothing(polished: Cast) -> None:
    panel = at(polished, "polish-panel", "bonnet")
    page = polished.owner.get(panel).content.decode()
    assert "data-observed-entry" not in page
    assert polished.owner.post(panel, typed()).status_code == 403
    old = Observation.objects.filter(table="polish").earliest("pk")
    assert polished.owner.get(at(polished, "correct-polish", old.pk)).status_code == 403
    for name, rest in (("polish", ()), ("polish-panel", ("bonnet",)), ("polish-json", ())):
        assert polished.stranger.get(at(polished, name, *rest)).status_code == 404
        assert polished.nobody.get(at(polished, name, *rest)).status_code == 302
    assert polished.head.get(at(polished, "polish-panel", "roof")).status_code == 404


def test_a_panel_s_page_asks_the_record_a_bounded_number_of_times(
    polished: Cast, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(30):
        polished.craft.get(at(polished, "polish-panel", "bonnet"))
