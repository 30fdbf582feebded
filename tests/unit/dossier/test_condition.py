"""The condition report and the dossier's section on findings, read back from the PDF."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from PIL import Image
from tests.unit.dossier.conftest import car_of
from tests.unit.dossier.test_dossier import text_of

from asfound.base import StoppedError
from asfound.dossier import Shown, about_condition, make_condition_report, make_dossier
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
HEAD = (
    *("subject", "kind", "extent", "severity", "x_mm", "y_mm", "photo", "photo_marks"),
    *("found_on", "found_by", "note", "opinion", "opinion_by", "opinion_on", "active", "advice"),
)
RING = '[{"kind": "ring", "points": [[0.2, 0.2], [0.4, 0.6]], "words": ""}]'
DENT = {
    **{"subject": "left door", "kind": "dent", "extent": "40 mm across", "severity": "2"},
    **{"x_mm": "300", "y_mm": "250", "photo": "photos/a.jpg", "photo_marks": RING},
    **{"found_on": "2031-04-02", "found_by": "Ilse Horn", "note": "paint whole"},
    **{"opinion": "opened against a post", "opinion_by": "Bo Wend", "opinion_on": "2031-04-05"},
    **{"active": "no", "advice": "leave it as it is"},
}
HOSE = {
    **{"subject": "brake hoses", "kind": "cracked", "extent": "both", "severity": "4"},
    **{"found_on": "2031-04-03", "found_by": "Ilse Horn"},
}


def table(*rows: dict[str, str]) -> Sheet:
    return Sheet(columns=HEAD, rows=tuple(tuple(row.get(c, "") for c in HEAD) for row in rows))


@pytest.fixture
def car() -> CarFolder:
    parts = Sheet(
        columns=("part", "name", "mass_kg", "fixed_with"),
        rows=(("brake hoses", "flexible hoses", "0.4", "unions"), ("0007", "horn", "", "")),
    )
    events = Sheet(
        columns=("event", "subject", "not_before", "not_after", "note"),
        rows=(("door refitted", "left door", "1971", "1974", "invoice"),),
    )
    photos = Sheet(
        columns=("file", "sha256", "subject", "view", "stage"),
        rows=(("photos/a.jpg", "ab" * 32, "left door", "damage", "before"),),
    )
    return car_of(findings=table(DENT, HOSE), parts=parts, events=events, photos=photos)


def picture(_file: str, _sha256: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (160, 120), (120, 90, 60)).save(out, "JPEG")
    return out.getvalue()


def test_observation_and_opinion_stand_in_sections_of_their_own(
    car: CarFolder, tmp_path: Path
) -> None:
    text = text_of(make_condition_report(car, made_on=DAY, picture=picture), tmp_path)
    before, _, after = text.partition("6 Assessment")
    assert "opened against a post" not in before
    assert "opened against a post" in after
    assert "at rest" in after
    assert "leave it as it is" in after.partition("7 Recommendations")[2]
    observed = before.partition("5 Condition as observed")[2]
    for words in ("40 mm across", "2 moderate", "paint whole", "Ilse Horn"):
        assert words in observed


@pytest.mark.from_memory
def test_the_sections_stand_in_the_order_of_the_standard(car: CarFolder, tmp_path: Path) -> None:
    """EN 16095 as remembered; the standard's own text was not at hand."""
    text = text_of(make_condition_report(car, made_on=DAY), tmp_path)
    heads = (
        *("1 Identification", "2 Purpose and examination", "3 Description", "4 Earlier treatment"),
        *("5 Condition as observed", "6 Assessment", "7 Recommendations", "8 Images"),
    )
    places = [text.index(head) for head in heads]
    assert places == sorted(places)
    assert "from memory" in text


def test_what_can_hurt_comes_first_with_its_cautions(car: CarFolder, tmp_path: Path) -> None:
    text = text_of(make_condition_report(car, made_on=DAY), tmp_path)
    condition = text.partition("5 Condition as observed")[2]
    assert condition.index("Grave:") < condition.index("dent")
    assert "asbestos" in text.partition("7 Recommendations")[2]


def test_what_nobody_wrote_of_is_named(car: CarFolder) -> None:
    told = about_condition(car, made_on=DAY)
    assert told["unseen"] == ["bonnet", "left wing", "boot & lid", "horn (0007)"]
    assert not about_condition(car, made_on=DAY, subject="left door")["unseen"]


def test_of_a_part_only_its_own_is_told_and_attached(car: CarFolder, tmp_path: Path) -> None:
    pdf = make_condition_report(car, made_on=DAY, subject="brake hoses")
    text = text_of(pdf, tmp_path)
    assert "Flexible hoses" in text
    assert "0.4 kg" in text
    assert "40 mm across" not in text
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        inside = opened.attachments["findings.csv"].get_file().read_bytes().decode()
    (row,) = csv.DictReader(io.StringIO(inside))
    assert (row["subject"], row["severity"]) == ("brake hoses", "4")


def test_who_may_not_look_into_a_room_is_told_nothing_of_it(car: CarFolder) -> None:
    subjects = Sheet(columns=("subject", "locked_option"), rows=(("left door", "fill"),))
    decided = replace(car, sheets={**car.sheets, "subjects": subjects})
    whole = about_condition(decided, made_on=DAY, subject="left door")
    assert whole["decided"] == [["left door", "fill"]]
    assert whole["earlier"] == [["door refitted", "not before 1971, not after 1974", "invoice"]]
    less = Shown(history=False, decisions=False)
    closed = about_condition(decided, made_on=DAY, subject="left door", shown=less)
    assert not closed["decided"]
    assert not closed["earlier"]


def test_same_car_and_date_give_the_same_bytes(car: CarFolder) -> None:
    first, second = (
        make_condition_report(car, made_on=DAY, subject="left door", picture=picture)
        for _ in range(2)
    )
    assert first == second


def test_a_car_of_which_nothing_was_written_down_has_a_report_too(tmp_path: Path) -> None:
    text = text_of(make_condition_report(car_of(), made_on=DAY), tmp_path)
    assert "sound, or nobody looked" in text


def test_the_dossier_has_a_section_with_the_marks_on_the_photograph(
    car: CarFolder, tmp_path: Path
) -> None:
    text = text_of(make_dossier(car, made_on=DAY, picture=picture), tmp_path)
    section = text.partition("The condition as found")[2]
    assert "2 findings on 2 panels and parts" in text
    assert "opened against a post" in section
    assert "finding 1 of the condition" in text
    bare = make_dossier(car_of(), made_on=DAY)
    assert "The condition as found" not in text_of(bare, tmp_path)


def test_setting_tells_how_far_it_is_without_a_picture_too_and_stops() -> None:
    told: list[float] = []
    make_condition_report(car_of(), made_on=DAY, progress=told.append)
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)
    assert len(set(told)) > 4

    def stop(done: float) -> None:
        if done > 0.65:
            raise StoppedError

    with pytest.raises(StoppedError):
        make_condition_report(car_of(), made_on=DAY, progress=stop)
