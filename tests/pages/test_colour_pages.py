"""The colour pages: entering, correcting, what the readings tell, film beside colour."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, set_sheet
from asfound.record.models import Observation

FRAGMENT = {"HX-Request": "true"}
GREEN, OFF = ("45", "-13", "18"), ("46.5", "-11", "20")


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def row(panel: str, lab: tuple[str, str, str] = GREEN, **more: str) -> dict[str, str]:
    numbers = dict(zip(("L", "a", "b"), lab, strict=True))
    viewed = {"exposure": "exposed", "illuminant": "D65", "observer": "10"}
    return {"panel": panel, "x_mm": "100", "y_mm": "90", **numbers, **viewed, **more}


@pytest.fixture
def read(cast: Cast) -> Cast:
    rows = [
        row("bonnet"),
        row("bonnet", ("42", "-16", "19"), exposure="hidden"),
        row("scuttle", by="Ana", taken_at="2026-05-12"),
        row("door left", OFF),
        row("door left", OFF, illuminant="", observer=""),
    ]
    add_observations(car=cast.car, table="colour", rows=rows, by=None)
    pairs = [{"panel": "bonnet", "other_panel": "door left"}]
    set_sheet(car=cast.car, table="neighbours", rows=pairs, by=None)
    return cast


def typed(**changes: str) -> dict[str, str]:
    numbers = {"L": "45,1", "a": "-13", "b": "18", "x_mm": "120", "y_mm": "80"}
    viewed = {"exposure": "hidden", "illuminant": "D65", "observer": "10", "instrument": "meter"}
    return {**numbers, **viewed, "key": "k1", **changes}


def entry(cast: Cast, panel: str = "bonnet") -> str:
    return at(cast, "enter-colour") + f"?panel={panel}"


def test_a_car_without_colour_tells_how_to_begin(cast: Cast) -> None:
    page = cast.head.get(at(cast, "colour")).content.decode()
    assert "No colour was read yet" in page
    assert at(cast, "enter-colour") in page


def test_the_survey_leads_to_the_colour(cast: Cast) -> None:
    assert at(cast, "colour") in cast.owner.get(at(cast, "survey")).content.decode()


def test_the_page_tells_seams_fade_and_panels_off_by_light(read: Cast) -> None:
    page = read.owner.get(at(read, "colour")).content.decode()
    for words in (
        "Light D65, observer 10°",
        "Light not stated, observer not stated",
        "compared only with each other",
        "Seams, the worst first",
        "bonnet, door left",
        "new vehicles:",
        "Exposed is lighter",
        "off the car&#x27;s own colour",
        "disagree",
    ):
        assert words in page or words.replace("&#x27;", "'") in page, words
    assert "<svg" in page
    assert "style=" not in page
    assert at(read, "enter-colour") not in page
    assert at(read, "table", "colour_thresholds") in page


def test_film_beside_colour_fills_itself_in(read: Cast) -> None:
    page = read.head.get(at(read, "colour")).content.decode()
    assert f'hx-get="{at(read, "colour-with-film")}"' in page
    fragment = read.head.get(at(read, "colour-with-film"), headers=FRAGMENT).content.decode()
    whole = read.head.get(at(read, "colour") + "?whole=1").content.decode()
    for told in (fragment, whole):
        assert "Film and colour together" in told
        assert "independent given" in told
        assert "ENFSI guideline" in told
    assert "door left" in fragment
    alone = read.head.get(at(read, "colour-with-film"))
    assert alone.url == at(read, "colour") + "?whole=1"


def test_the_panel_of_the_survey_leads_to_both_signs(read: Cast) -> None:
    page = read.head.get(at(read, "panel", "door left")).content.decode()
    assert "together" in page
    assert at(read, "colour") in page
    assert "#observations" in page
    bare = read.head.get(at(read, "panel", "bonnet")).content.decode()
    assert "With its colour" in bare


def test_it_can_be_taken_away(read: Cast) -> None:
    picture = read.owner.get(at(read, "colour-svg"))
    assert picture.content.startswith(b"<svg")
    assert b"door left" in read.owner.get(at(read, "colour-csv")).content
    told = json.loads(read.owner.get(at(read, "colour-json")).content)
    assert [signs["panel"] for signs in told["with_film"]] == ["bonnet", "door left"]


def test_nothing_to_take_away_is_not_found(cast: Cast) -> None:
    for name in ("colour-svg", "colour-csv", "colour-json"):
        assert cast.head.get(at(cast, name)).status_code == 404


def test_a_reading_is_kept_with_who_and_when(cast: Cast) -> None:
    answer = cast.craft.post(entry(cast), typed())
    assert answer.status_code == 302
    assert answer.url == entry(cast) + "&x=120&y=80&kept=k1"
    kept = Observation.objects.get(table="colour")
    assert kept.subject == "bonnet"
    assert (kept.cells["L"], kept.cells["by"]) == ("45.1", "trimmer")
    assert kept.cells["taken_at"]
    assert kept.entered_by.username == "trimmer"


def test_sent_twice_is_kept_once(cast: Cast) -> None:
    for _ in range(2):
        assert cast.craft.post(entry(cast), typed()).status_code == 302
    assert Observation.objects.count() == 1


def test_the_next_reading_is_viewed_like_the_last(cast: Cast) -> None:
    cast.craft.post(entry(cast), typed(illuminant="D50", observer="2"))
    page = cast.craft.get(entry(cast, "scuttle")).content.decode()
    assert 'value="D50"' in page
    assert 'value="meter"' in page
    assert "; D50, observer 2" in page


def test_a_part_can_be_read_too(cast: Cast) -> None:
    address = at(cast, "enter-colour") + "?part=seat"
    assert cast.craft.get(address).status_code == 200
    cast.craft.post(address, typed())
    assert Observation.objects.get().cells["part"] == "seat"


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"L": "250"}, "lightness L* is “250”"),
        ({"a": "red"}, "colour a* is “red”"),
        ({"b": ""}, "required"),
        ({"exposure": "shaded"}, "shaded"),
    ],
)
def test_what_breaks_a_rule_is_told_and_not_kept(
    cast: Cast, change: dict[str, str], told: str
) -> None:
    answer = cast.craft.post(entry(cast), typed(**change))
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Observation.objects.exists()


def test_there_is_no_page_for_a_panel_that_is_not(cast: Cast) -> None:
    assert cast.head.get(entry(cast, "roof")).status_code == 404


def test_a_place_off_the_panel_is_asked_back(cast: Cast) -> None:
    answer = cast.craft.post(entry(cast), typed(x_mm="90000"))
    assert answer.status_code == 422
    assert "mm off the panel" in answer.content.decode()
    assert not Observation.objects.exists()


def test_choosing_lists_the_panels(read: Cast) -> None:
    page = read.craft.get(at(read, "enter-colour")).content.decode()
    assert "?panel=door%20left" in page
    assert "2 readings" in page


def test_a_correction_keeps_the_old_reading_struck_through(read: Cast) -> None:
    old = Observation.objects.filter(subject="scuttle").get()
    address = at(read, "correct-colour", old.pk)
    assert 'value="45"' in read.craft.get(address).content.decode()
    answer = read.craft.post(
        address, {**typed(L="44", exposure="exposed"), "reason": "misread", "step": "correct"}
    )
    assert answer.status_code == 302
    new = Observation.objects.current().get(subject="scuttle")
    assert (new.cells["L"], new.cells["panel"]) == ("44", "scuttle")
    assert (new.cells["by"], new.cells["taken_at"]) == ("Ana", "2026-05-12")
    page = read.craft.get(at(read, "colour")).content.decode()
    assert "corrected to 44, \N{MINUS SIGN}13, 18: misread" in page
    assert read.craft.get(address).url == at(read, "colour")


def test_a_withdrawal_wants_a_reason(read: Cast) -> None:
    old = Observation.objects.filter(subject="scuttle").get()
    address = at(read, "correct-colour", old.pk)
    assert read.craft.post(address, {"step": "withdraw", "reason": ""}).status_code == 422
    read.craft.post(address, {"step": "withdraw", "reason": "on wax"})
    old.refresh_from_db()
    assert (old.counts, old.reason) == (False, "on wax")


@pytest.mark.parametrize("name", ["colour", "colour-with-film", "colour-csv", "enter-colour"])
def test_a_stranger_finds_no_colour(read: Cast, name: str) -> None:
    assert read.stranger.get(at(read, name)).status_code == (302 if "film" in name else 404)
    assert read.stranger.get(at(read, name), headers=FRAGMENT).status_code == 404


def test_an_owner_reads_and_does_not_write(read: Cast) -> None:
    reading = Observation.objects.first()
    assert read.owner.get(at(read, "enter-colour")).status_code == 403
    assert read.owner.post(entry(read), typed()).status_code == 403
    assert read.owner.get(at(read, "correct-colour", reading.pk)).status_code == 403


def test_the_page_asks_the_database_as_often_for_many_readings(
    read: Cast, django_assert_max_num_queries
) -> None:
    add_observations(car=read.car, table="colour", rows=[row("bonnet")] * 60, by=None)
    with django_assert_max_num_queries(40):
        read.head.get(at(read, "colour"))
