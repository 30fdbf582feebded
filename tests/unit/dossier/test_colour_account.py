"""The colour in the dossier: observed apart from computed, never more than the evidence bears."""

from __future__ import annotations

import io
import json
from datetime import date

import pikepdf
import pytest
from tests.unit.dossier.conftest import car_of

from asfound.dossier.account import about_colour
from asfound.dossier.make import make_dossier
from asfound.measure.film import FilmReading
from asfound.record.derived import colour_reading
from asfound.record.folder import CarFolder, Sheet

HEAD = ("panel", "x_mm", "y_mm", "L", "a", "b", "exposure", "illuminant", "observer", "by")
ROWS = (
    ("bonnet", "100", "100", "45", "-13", "18", "exposed", "D65", "10", "Ana"),
    ("bonnet", "100", "600", "42", "-16", "19", "hidden", "D65", "10", "Ana"),
    ("left door", "100", "100", "45.2", "-13", "18", "exposed", "D65", "10", "Ana"),
    ("left wing", "200", "200", "46.6", "-11", "20", "exposed", "D65", "10", "Ana"),
    ("left wing", "200", "200", "40", "-10", "20", "exposed", "", "", "Ana"),
)


@pytest.fixture(scope="module")
def coloured() -> CarFolder:
    return car_of(
        colour=Sheet(columns=HEAD, rows=ROWS),
        neighbours=Sheet(columns=("panel", "other_panel"), rows=(("left door", "left wing"),)),
    )


def test_every_group_stands_apart_with_what_it_cannot_tell(coloured: CarFolder) -> None:
    told = about_colour(coloured, colour_reading(coloured))
    stated, loose = told["groups"]
    assert stated["name"] == "Light D65, observer 10°"
    assert [row[0] for row in stated["fades"]] == ["bonnet"]
    assert [row[0] for row in stated["seams"]] == ["left door, left wing"]
    assert not loose["stated"]
    assert any("it takes three" in sentence for sentence in loose["unsaid"])
    assert told["both"] == []
    assert "Ana" in told["taken"]


def test_film_and_colour_stand_beside_each_other(coloured: CarFolder, reading: FilmReading) -> None:
    told = about_colour(coloured, colour_reading(coloured), film=reading)
    assert {row[0] for row in told["both"]} == {"bonnet", "left door", "left wing"}
    assert "original" not in json.dumps(told)
    assert "independent" in told["assumption"]


def test_the_pdf_takes_the_seams_and_the_result_along(
    coloured: CarFolder, reading: FilmReading
) -> None:
    pdf = make_dossier(coloured, made_on=date(2026, 3, 1), reading=reading)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        content = opened.attachments["colour.json"].get_file().read_bytes()
    groups = json.loads(content)["groups"]
    assert [group["stated"] for group in groups] == [True, False]
