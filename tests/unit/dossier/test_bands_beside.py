"""Published bands stand beside the reading in the dossier, and change nothing of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.unit.dossier.conftest import car_of
from tests.unit.dossier.test_dossier import text_of

from asfound.dossier import make_dossier
from asfound.dossier.account.survey import about_survey
from asfound.measure.base_of_films import BANDS
from asfound.measure.film import FilmReading
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
CAR = ("marque", "model", "body_style", "built")


def built(year: str, marque: str = "Orla") -> CarFolder:
    return car_of(car=Sheet(columns=CAR, rows=((marque, "Six", "saloon", year),)))


@pytest.mark.parametrize(
    ("year", "eras"),
    [
        ("1962", {"older, when new", "1960s, finished by hand"}),
        ("1955", {"older, when new"}),
        ("1977", {"older, when new", "1977, North American"}),
    ],
)
def test_factory_bands_are_those_of_the_year(
    reading: FilmReading, year: str, eras: set[str]
) -> None:
    rows = about_survey(built(year), reading, bands=BANDS)["bands"]
    assert {row[1] for row in rows if row[0] == "factory finish"} == eras
    assert {row[0] for row in rows} == {"factory finish", "repaint", "filler"}
    assert all(row[4].endswith(")") for row in rows), "every row names its source and status"


def test_a_band_of_another_marque_is_left_out(reading: FilmReading) -> None:
    one = replace(BANDS[0], marque="Selvany", era="any", first_year=None)
    theirs = about_survey(built("1962", "Selvany"), reading, bands=[one])["bands"]
    assert theirs[0][1] == "Selvany, any"
    assert about_survey(built("1962", "Orla"), reading, bands=[one])["bands"] == []


def test_it_says_where_the_level_lies(reading: FilmReading) -> None:
    level = reading.level_um.value
    places = {
        "in it": (level - 1, level + 1),
        "below it": (level + 1, level + 2),
        "above it": (level - 2, level - 1),
    }
    for words, (low, high) in places.items():
        band = replace(BANDS[0], low_um=low, high_um=high, first_year=None)
        assert about_survey(built("1962"), reading, bands=[band])["bands"][0][3] == words


def test_the_dossier_says_that_the_sources_disagree(tmp_path) -> None:
    folder = built("1962")
    text = text_of(make_dossier(folder, made_on=DAY), tmp_path)
    beside = text.split("Beside the reading")[1]
    assert "The sources disagree with one another" in beside
    assert "1960s, finished by hand" in beside
    without = text_of(make_dossier(folder, made_on=DAY, bands=()), tmp_path)
    assert "Beside the reading" not in without


def test_bands_change_no_other_word_of_the_survey(reading: FilmReading) -> None:
    car = built("1962")
    told = [about_survey(car, reading, bands=bands) for bands in ((), BANDS)]
    assert told[0] | {"bands": None} == told[1] | {"bands": None}
