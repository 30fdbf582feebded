"""The words of a film reading: for or against, on the published scale, never more than that."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import box

from asfound.measure.base_of_films import BANDS, DISAGREE, expected_film
from asfound.measure.film import FilmSurvey, Panel, PanelReading, Reading, read_film
from asfound.record.results.film import TWO_SIDED, panel_words
from asfound.weigh import SCALE

SRC = Path(__file__).parents[2] / "src" / "asfound"
SPEAK_OF_FILM = (
    "cli/film.py",
    "desk/survey/*.py",
    "desk/templates/cars/_finish.html",
    "desk/templates/survey/*.html",
    "dossier/account/limits.py",
    "dossier/account/survey.py",
    "dossier/figures/panel.py",
    "dossier/figures/sheet.py",
    "dossier/template/survey.typ",
    "measure/base_of_films/*.py",
    "measure/film/*.py",
    "record/actions/band_evidence.py",
    "record/results/film.py",
)
ORIGINAL = re.compile(r"\boriginal\b", re.IGNORECASE)
KINDS = {"filler": 0.8, "local respray": 0.1}
# ENFSI guideline for evaluative reporting, 2015, verbal scale; up to 2 is treated as neutral.
DEGREES = [
    (5.0, "weak"),
    (50.0, "moderate"),
    (500.0, "moderately strong"),
    (5_000.0, "strong"),
    (50_000.0, "very strong"),
    (5e6, "extremely strong"),
]


@pytest.fixture(scope="module")
def reading() -> PanelReading:

    spots = [(f"{i}", 100.0 * i) for i in range(1, 5)]
    survey = FilmSurvey(
        panels=(Panel(panel="roof", outline=box(0, 0, 500, 400)),),
        readings=tuple(
            Reading(panel="roof", spot=s, x_mm=x, y_mm=200.0, thickness_um=150.0, gauge="A")
            for s, x in spots
        ),
        shims=(),
    )
    return read_film(survey).panels[0]


@pytest.mark.parametrize("pattern", SPEAK_OF_FILM)
def test_no_source_that_speaks_of_film_says_original(pattern: str) -> None:
    files = sorted(SRC.glob(pattern))
    assert files, f"nothing is at {pattern}"
    said = [
        f"{file.relative_to(SRC)}:{number}: {line.strip()}"
        for file in files
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)
        if ORIGINAL.search(line)
    ]
    assert not said, "film thickness speaks for or against 'undisturbed since built' only"


@pytest.mark.source("ENFSI guideline for evaluative reporting in forensic science, 2015")
@pytest.mark.parametrize(("lr", "degree"), DEGREES)
def test_a_reading_speaks_for_either_side_in_the_same_degrees(
    reading: PanelReading, lr: float, degree: str
) -> None:
    against = panel_words(replace(reading, lr_later_work=lr, kinds=KINDS))
    in_favour = panel_words(replace(reading, lr_later_work=1 / lr, kinds=KINDS))
    assert against == f"{degree} support for later work: filler"
    assert in_favour == f"{degree} support for undisturbed since built"


@pytest.mark.parametrize("lr", [0.5, 1.0, 2.0])
def test_a_neutral_reading_says_so(reading: PanelReading, lr: float) -> None:
    words = panel_words(replace(reading, lr_later_work=lr))
    assert words == "not known: neutral, neither for nor against undisturbed since built"


def test_what_stands_beside_the_words_names_both_statements_and_the_scale() -> None:
    assert "“undisturbed since built”" in TWO_SIDED
    assert "“carries later work”" in TWO_SIDED
    assert SCALE in TWO_SIDED
    assert "2015" in SCALE


def test_words_made_at_run_time_do_not_say_original(reading: PanelReading) -> None:
    made = [
        TWO_SIDED,
        DISAGREE,
        expected_film([], kind="any", year=1960).words,
        *(band.words + band.era + band.source + band.note for band in BANDS),
        *(panel_words(replace(reading, lr_later_work=lr)) for lr in (1e-9, 1e-2, 1, 1e2, 1e9)),
        panel_words(replace(reading, spots_n=0)),
    ]
    assert [words for words in made if ORIGINAL.search(words)] == []
