"""``asfound odometer`` on a folder: contradiction by name, stories, rates."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from asfound.__main__ import app
from asfound.base import NotEnoughEvidenceError

HEAD = "date,reading,unit,source,digits\n"


def folder(place: Path, *rows: str) -> str:
    text = HEAD + "".join(f"{row}\n" for row in rows)
    (place / "odometer.csv").write_text(text, encoding="utf-8")
    return str(place)


def test_a_contradiction_is_named_with_its_stories(tmp_path: Path) -> None:
    place = folder(
        tmp_path, "1966-08-30,41870,mile,invoice,5", "1971-03-11,38905,mile,certificate,5"
    )
    told = json.loads(CliRunner().invoke(app, ["odometer", place, "--json"]).stdout)
    assert told["consistent"] is False
    assert told["clashes"][0]["readings"] == [
        "1966-08-30: 41870 mile (invoice)",
        "1971-03-11: 38905 mile (certificate)",
    ]
    assert {s["changes"][0]["kind"] for s in told["stories"]} == {
        "turned over",
        "instrument changed",
        "other unit",
        "reading wrong",
    }
    assert told["distances_km"][-1]["to"] is None
    assert told["turn_km"] == pytest.approx(160_934.4)
    words = CliRunner().invoke(app, ["odometer", place]).stdout
    assert "Contradicting" in words
    assert "the dial turned over once between" in words
    assert "times the average" in words


def test_readings_that_agree_stand_beside_the_average(tmp_path: Path) -> None:
    place = folder(tmp_path, "1965,1000,mile,book,5", "1970,51000,mile,book,5")
    told = json.loads(CliRunner().invoke(app, ["odometer", place, "--json"]).stdout)
    assert told["consistent"] is True
    assert told["stories"][0]["rates"][0]["words"] == "about the average"
    assert (
        "51\N{NARROW NO-BREAK SPACE}000 mile" in CliRunner().invoke(app, ["odometer", place]).stdout
    )


def test_two_rows_written_alike_are_told_by_their_rows(tmp_path: Path) -> None:
    place = folder(tmp_path, "1965,1000,mile,book,5", "1965,1000,mile,book,5")
    told = json.loads(CliRunner().invoke(app, ["odometer", place, "--json"]).stdout)
    assert told["readings"][1] == "1965: 1000 mile (book), row 3"


def test_without_a_reading_it_says_what_to_write(tmp_path: Path) -> None:
    (tmp_path / "car.csv").write_text(
        "marque,model,body_style,built\nTessivane,Meridel,tourer,1957\n", encoding="utf-8"
    )
    result = CliRunner().invoke(app, ["odometer", str(tmp_path)])
    assert isinstance(result.exception, NotEnoughEvidenceError)
    assert "odometer.csv" in str(result.exception)
