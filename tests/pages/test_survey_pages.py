"""The survey's pages: the map, a panel, entering, correcting and uploading readings."""

from __future__ import annotations

import csv
import io
import json
from datetime import datetime
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast

from asfound.record.models import FilmReading

SCRIPT = {"Accept": "application/json"}
FRAGMENT = {"HX-Request": "true"}
ODD = (
    "Bauteil;Messpunkt;Pos. X [mm];Pos. Y [mm];Schichtdicke\r\n"
    "scuttle;N1;120;80;498,5\r\nscuttle;N1;121;80;503,0\r\nscuttle;N1;120;81;501,0\r\n"
)


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def spot(**changes: object) -> dict[str, object]:
    typed = {"x_mm": "100", "y_mm": "90,5", "thickness_um": ["510", "515", "512,5"], "key": "k1"}
    return {**typed, **changes}


def test_the_page_answers_at_once_and_names_its_fragment(cast: Cast) -> None:
    page = cast.head.get(at(cast, "survey")).content.decode()
    assert "48 gauge readings on 2 of 3 panels" in page
    assert f'hx-get="{at(cast, "survey-map")}"' in page


@pytest.mark.parametrize("way", ["fragment", "whole"])
def test_the_map_shows_every_panel_in_picture_and_words(cast: Cast, way: str) -> None:
    if way == "whole":
        page = cast.head.get(at(cast, "survey") + "?whole=1").content.decode()
    else:
        page = cast.head.get(at(cast, "survey-map"), headers=FRAGMENT).content.decode()
    assert "<svg" in page
    for panel in ("bonnet", "door left", "scuttle"):
        assert at(cast, "panel", panel).replace(" ", "%20") in page
    assert "not known: no readings" in page
    assert "Measure here next" in page


def test_the_map_asked_for_by_itself_leads_to_its_page(cast: Cast) -> None:
    answer = cast.head.get(at(cast, "survey-map"))
    assert answer.url == at(cast, "survey") + "?whole=1"


def test_the_survey_can_be_taken_away(cast: Cast) -> None:
    table = cast.owner.get(at(cast, "survey-csv"))
    rows = list(csv.DictReader(io.StringIO(table.content.decode())))
    assert len(rows) == 48
    assert rows[0]["panel"] == "bonnet"
    reading = json.loads(cast.owner.get(at(cast, "survey-json")).content)
    assert {panel["panel"] for panel in reading["panels"]} == {"bonnet", "door left", "scuttle"}
    picture = cast.owner.get(at(cast, "survey-svg"))
    assert picture["Content-Type"] == "image/svg+xml"
    assert picture.content.startswith(b"<svg")


def test_a_panel_lists_observations_apart_from_the_reading(cast: Cast) -> None:
    page = cast.craft.get(at(cast, "panel", "bonnet")).content.decode()
    said, observed = page.split('id="observations"')
    assert "The reading" in said
    assert "trimmer" in observed
    assert "gauge A" in observed


def test_an_owner_reads_a_panel_without_a_form(cast: Cast) -> None:
    page = cast.owner.get(at(cast, "panel", "bonnet")).content.decode()
    assert "data-entry" not in page
    assert "correct" not in page.split('id="observations"')[1].split("</table>")[0]


def test_a_panel_that_does_not_exist_has_no_page(cast: Cast) -> None:
    assert cast.head.get(at(cast, "panel", "roof")).status_code == 404


def test_a_spot_is_kept_with_who_and_its_counted_name(cast: Cast) -> None:
    answer = cast.craft.post(at(cast, "panel", "bonnet"), spot())
    assert answer.status_code == 302
    kept = list(FilmReading.objects.filter(panel="bonnet", spot="B9"))
    assert [r.thickness_um for r in kept] == [510, 515, 512.5]
    assert {(r.x_mm, r.y_mm, r.by) for r in kept} == {(100, 90.5, "trimmer")}
    assert {r.entered_by.username for r in kept} == {"trimmer"}


def test_a_script_is_told_the_next_spot(cast: Cast) -> None:
    answer = cast.craft.post(at(cast, "panel", "bonnet"), spot(), headers=SCRIPT)
    assert answer.json()["next_spot"] == "B10"


def test_a_spot_that_is_sent_twice_is_kept_once(cast: Cast) -> None:
    for _ in range(2):
        assert (
            cast.craft.post(at(cast, "panel", "bonnet"), spot(), headers=SCRIPT).status_code == 200
        )
    assert FilmReading.objects.filter(spot="B9").count() == 3


def test_one_more_goes_to_the_spot_that_stands_at_the_very_place(cast: Cast) -> None:
    address = at(cast, "panel", "bonnet")
    cast.craft.post(address, spot(), headers=SCRIPT)
    more = spot(thickness_um=["513"], more="yes", key="k2")
    told = cast.craft.post(address, more, headers=SCRIPT).json()
    assert told == {"said": "Spot B9: 1 more reading kept.", "spot": "B9", "next_spot": "B10"}
    assert FilmReading.objects.filter(spot="B9").count() == 4
    elsewhere = spot(thickness_um=["513"], more="yes", key="k3", x_mm="102")
    refused = cast.craft.post(address, elsewhere, headers=SCRIPT)
    assert refused.status_code == 422
    assert "no spot that counts stands at this place" in refused.json()["faults"][0]
    anew = spot(thickness_um=["513"], key="k4")
    assert cast.craft.post(address, anew, headers=SCRIPT).json()["spot"] == "B10"


def test_what_somebody_else_entered_on_the_device_is_not_taken(cast: Cast) -> None:
    address = at(cast, "panel", "bonnet")
    before_n = FilmReading.objects.count()
    head = cast.head_person.user.pk
    answer = cast.craft.post(address, spot(), headers={**SCRIPT, "X-Entered-By": str(head)})
    assert answer.status_code == 409
    assert FilmReading.objects.count() == before_n
    theirs = {**SCRIPT, "X-Entered-By": str(head)}
    assert cast.head.post(address, spot(), headers=theirs).status_code == 200


@pytest.mark.parametrize(
    ("pressed_h", "waited_s", "hours"),
    [
        (5, 30 * 24 * 3600, 5),
        (5, 0, 5),
        (-48, 3600, 0),
        ("", 7200, 2),
        ("", -7200, 0),
        ("x", "y", 0),
    ],
)
def test_when_it_was_pressed_is_told_by_the_clock_of_the_workshop(
    cast: Cast, pressed_h: Any, waited_s: Any, hours: float
) -> None:
    now = timezone.now()
    told = (
        str(round((now.timestamp() - 3600 * pressed_h) * 1000))
        if isinstance(pressed_h, int)
        else pressed_h
    )
    sent = spot(pressed_ms=told, waited_s=str(waited_s))
    assert cast.craft.post(at(cast, "panel", "bonnet"), sent, headers=SCRIPT).status_code == 200
    taken_at = datetime.fromisoformat(FilmReading.objects.latest("pk").taken_at)
    assert (now - taken_at).total_seconds() == pytest.approx(3600 * hours, abs=90)


def test_a_sender_with_more_than_three_numbers_loses_none(cast: Cast) -> None:
    address, numbers = at(cast, "panel", "bonnet"), [str(500 + i) for i in range(5)]
    assert cast.craft.post(address, spot(thickness_um=numbers), headers=SCRIPT).status_code == 200
    assert FilmReading.objects.filter(spot="B9").count() == 5
    many = spot(thickness_um=["500"] * 13, key="k2")
    answer = cast.craft.post(address, many, headers=SCRIPT)
    assert answer.status_code == 422
    assert "more than 12" in answer.json()["faults"][0]


@pytest.mark.parametrize("typed", ["1.234", "12,345"])
def test_a_film_that_could_be_thousands_is_asked_back(cast: Cast, typed: str) -> None:
    digits = typed.replace(".", "").replace(",", "")
    address = at(cast, "panel", "bonnet")
    answer = cast.craft.post(address, spot(thickness_um=[typed]), headers=SCRIPT)
    assert answer.status_code == 422
    (fault,) = answer.json()["faults"]
    assert f"Write {digits} for thousands" in fault
    clear = spot(thickness_um=[f"{digits[:-3]}.{digits[-3:]}0"])
    assert cast.craft.post(address, clear, headers=SCRIPT).status_code == 200
    assert FilmReading.objects.latest("pk").thickness_um == pytest.approx(float(digits) / 1000)


def test_who_comes_second_is_told_so_and_nothing_is_written(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    reading = cast.car.film_readings.current().first()

    def somebody_was_first(car: object) -> None:
        FilmReading.objects.filter(pk=reading.pk).update(
            withdrawn_at=timezone.now(), reason="the gauge slipped"
        )

    monkeypatch.setattr("asfound.record.actions.film.take_turn", somebody_was_first)
    withdrawal = {"step": "withdraw", "reason": "taken twice"}
    answer = cast.craft.post(at(cast, "correct", reading.pk), withdrawal)
    assert answer.status_code == 409
    assert "Nothing was written" in answer.content.decode()


def test_a_spot_entered_at_the_car_says_who_and_when(cast: Cast) -> None:
    day = timezone.now().date()
    cast.craft.post(at(cast, "panel", "bonnet"), spot(), headers=SCRIPT)
    reading = FilmReading.objects.latest("pk")
    assert reading.by == reading.entered_by.get_username()
    assert reading.taken_at[:10] in {day.isoformat(), timezone.now().date().isoformat()}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"thickness_um": ["-4"]}, "cannot be negative"),
        ({"thickness_um": ["thick"]}, "must be a number"),
        ({"thickness_um": ["", "", ""]}, "There is no reading"),
        ({"x_mm": ""}, "x is empty"),
        ({"spot": "B1"}, "150, 200 mm"),
        ({"x_mm": "-300"}, "off the panel"),
    ],
)
def test_a_spot_with_a_fault_is_refused_whole_and_may_be_sent_again(
    cast: Cast, changes: dict, words: str
) -> None:
    before = FilmReading.objects.count()
    answer = cast.craft.post(at(cast, "panel", "bonnet"), spot(**changes), headers=SCRIPT)
    assert answer.status_code == 422
    assert words in " ".join(answer.json()["faults"])
    page = cast.craft.post(at(cast, "panel", "bonnet"), spot(**changes))
    assert page.status_code == 422
    assert FilmReading.objects.count() == before
    assert cast.craft.post(at(cast, "panel", "bonnet"), spot(), headers=SCRIPT).status_code == 200
    assert FilmReading.objects.count() == before + 3


def test_a_correction_keeps_the_old_reading_struck_with_its_reason(cast: Cast) -> None:
    old = FilmReading.objects.filter(panel="bonnet").first()
    data = {"step": "correct", "thickness_um": "505", "x_mm": "150", "y_mm": "200"}
    cast.craft.post(at(cast, "correct", old.pk), {**data, "reason": "slip of the pen"})
    page = cast.craft.get(at(cast, "panel", "bonnet")).content.decode()
    assert "corrected to 505 µm: slip of the pen" in page
    assert FilmReading.objects.current().count() == 48
    assert FilmReading.objects.count() == 49


def test_a_withdrawn_reading_no_longer_counts(cast: Cast) -> None:
    old = FilmReading.objects.filter(panel="bonnet").first()
    cast.craft.post(at(cast, "correct", old.pk), {"step": "withdraw", "reason": "on a seam"})
    assert "withdrawn: on a seam" in cast.craft.get(at(cast, "panel", "bonnet")).content.decode()
    assert FilmReading.objects.current().count() == 47


def test_a_reading_corrected_meanwhile_leads_back_to_its_panel_and_changes_nothing(
    cast: Cast,
) -> None:
    old = FilmReading.objects.filter(panel="bonnet").first()
    data = {"step": "correct", "x_mm": "150", "y_mm": "200", "reason": "slip of the pen"}
    cast.craft.post(at(cast, "correct", old.pk), {**data, "thickness_um": "505"})
    again = cast.craft.post(
        at(cast, "correct", old.pk), {**data, "thickness_um": "605"}, follow=True
    )
    assert again.redirect_chain == [(at(cast, "panel", "bonnet"), 302)]
    assert "corrected or withdrawn already; nothing was changed now" in again.content.decode()
    assert FilmReading.objects.count() == 49
    assert not FilmReading.objects.filter(thickness_um=605).exists()


@pytest.mark.parametrize("step", ["correct", "withdraw"])
def test_without_a_reason_nothing_is_corrected(cast: Cast, step: str) -> None:
    old = FilmReading.objects.filter(panel="bonnet").first()
    data = {"step": step, "thickness_um": "505", "x_mm": "150", "y_mm": "200", "reason": ""}
    assert cast.craft.post(at(cast, "correct", old.pk), data).status_code == 422
    assert FilmReading.objects.current().count() == FilmReading.objects.count() == 48


def test_an_owner_may_not_correct(cast: Cast) -> None:
    old = FilmReading.objects.first()
    assert cast.owner.get(at(cast, "correct", old.pk)).status_code == 403
    assert cast.stranger.get(at(cast, "correct", old.pk)).status_code == 404


def upload(cast: Cast, text: str | bytes, name: str = "gauge.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return cast.craft.post(at(cast, "load-film"), {"file": SimpleUploadedFile(name, data)})


def matched(**changes: str) -> dict[str, str]:
    guessed = {"panel": "0", "spot": "1", "x_mm": "2", "y_mm": "3", "thickness_um": "4"}
    return {**guessed, **changes}


def test_an_upload_is_shown_before_it_is_written(cast: Cast) -> None:
    address = upload(cast, ODD).url
    page = cast.craft.get(address).content.decode()
    assert "semicolon between the columns, decimal comma" in page
    assert "Write all 3 readings" in page
    assert FilmReading.objects.filter(panel="scuttle").count() == 0
    written = cast.craft.post(address, {**matched(), "step": "write"})
    assert written.url == at(cast, "survey")
    kept = FilmReading.objects.filter(panel="scuttle", spot="N1")
    assert sorted(r.thickness_um for r in kept) == [498.5, 501, 503]


def test_a_fault_in_one_row_keeps_all_rows_out(cast: Cast) -> None:
    address = upload(cast, ODD.replace("503,0", "-3")).url
    page = cast.craft.post(address, {**matched(), "step": "write"}).content.decode()
    assert "1 fault to mend first" in page
    assert "cannot be negative" in page
    assert FilmReading.objects.filter(panel="scuttle").count() == 0


def test_only_who_uploaded_a_file_finds_it_again(cast: Cast) -> None:
    address = upload(cast, ODD).url
    assert cast.head.get(address).url == at(cast, "load-table", "film")


def test_a_file_that_is_no_table_is_refused(cast: Cast) -> None:
    answer = upload(cast, b"PK\x03\x04\x00\x00\x00", name="gauge.xlsx")
    assert answer.status_code == 422
    assert "cannot be opened as a spreadsheet" in answer.content.decode()


def test_a_file_beyond_the_limit_is_refused_by_its_size(cast: Cast, settings) -> None:
    settings.MAX_TABLE_UPLOAD_BYTES = 10
    answer = upload(cast, ODD)
    assert answer.status_code == 422
    assert "20 MB at most" in answer.content.decode()
