"""``asfound colour``: the shape of its JSON, its sentences, its exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code

PANELS = "panel,section,substrate,outline_wkt\n" + "".join(
    f'{name},left,steel,"POLYGON ((0 0, 900 0, 900 600, 0 600, 0 0))"\n'
    for name in ("bonnet", "door", "wing")
)
HEAD = "panel,x_mm,y_mm,L,a,b,exposure,illuminant,observer\n"
ROWS = (
    "bonnet,10,10,45,-13,18,exposed,D65,10\n"
    "bonnet,10,500,42,-16,19,hidden,D65,10\n"
    "door,10,10,45.1,-13,18,exposed,D65,10\n"
    "wing,10,10,46.5,-11,20,exposed,D65,10\n"
    "wing,20,10,60,-11,20,exposed,,\n"
)


@pytest.fixture
def car(tmp_path: Path) -> Path:
    (tmp_path / "panels.csv").write_text(PANELS)
    (tmp_path / "colour.csv").write_text(HEAD + ROWS)
    (tmp_path / "neighbours.csv").write_text("panel,other_panel\ndoor,wing\n")
    return tmp_path


def test_the_json_has_every_group_with_what_it_tells(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("colour", str(car), "--json") == 0
    result = json.loads(capsys.readouterr().out)
    assert set(result) == {
        "instrument",
        "neighbours",
        "thresholds",
        "groups",
        "with_film",
        "assumption",
        "scale",
    }
    stated, loose = result["groups"]
    assert (stated["illuminant"], stated["observer"], stated["stated"]) == ("D65", "10", True)
    assert (loose["stated"], loose["readings_n"]) == (False, 1)
    (fade,) = stated["fade"]
    assert fade["delta_L"]["value"] == pytest.approx(3.0)
    assert fade["delta_L"]["u"] > 0
    (seam,) = stated["seams"]
    assert {seam["panel"], seam["other_panel"]} == {"door", "wing"}
    assert {t["source"] for t in seam["thresholds"]}
    assert stated["off_colour"][0]["panel"] == "wing"
    assert result["with_film"] == []


def test_in_words_a_light_that_is_not_stated_stands_apart(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("colour", str(car)) == 0
    out = capsys.readouterr().out
    assert "Light not stated, observer not stated: 1 readings. Compared only" in out
    assert "disagree" in out
    assert "original" not in out


def test_two_panels_are_a_plain_sentence_not_an_error(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (car / "colour.csv").write_text(HEAD + "".join(ROWS.splitlines(keepends=True)[1:3]))
    assert code("colour", str(car)) == 0
    assert "it takes three to know the car's own colour" in capsys.readouterr().out


def test_a_car_without_colour_is_3(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (car / "colour.csv").unlink()
    assert code("colour", str(car)) == 3
    assert "colour.csv" in capsys.readouterr().err
