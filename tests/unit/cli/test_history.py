"""``asfound history``: results, words, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code

from asfound.demo.written import sheet, written
from asfound.exchange import write_folder
from asfound.record.folder import CarFolder


@pytest.fixture
def car(tmp_path: Path) -> Path:
    (tmp_path / "events.csv").write_text(
        "event,not_before,not_after\nmade,1957-01-31,1957-01-31\nfitted,,1960\nsold,,\n"
    )
    (tmp_path / "event_links.csv").write_text(
        "id,from,to,min,max,unit\nk1,made,fitted,1,2,month\nk2,fitted,sold,0,,day\n"
    )
    return tmp_path


def test_windows_as_json(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("history", str(car), "--json") == 0
    out, err = capsys.readouterr()
    said = json.loads(out)
    assert err == ""
    assert said["consistent"] is True
    assert said["conflicts"] == []
    assert said["originality"] == []
    made, fitted, sold = said["events"]
    assert set(made) == {"event", "earliest", "latest", "p05", "p50", "p95"}
    assert made["p05"] == made["p95"] == "1957-01-31"
    assert (fitted["earliest"], fitted["latest"]) == ("1957-02-28", "1957-03-31")
    assert (sold["earliest"], sold["latest"], sold["p50"]) == ("1957-02-28", None, None)


def test_windows_in_words(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("history", str(car)) == 0
    out = capsys.readouterr().out
    assert "1957-02-28" in out
    assert "open" in out
    assert "All that is said can hold together." in out


def test_a_clash_ends_well_and_is_told(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with (car / "events.csv").open("a") as file:
        file.write("letter,1957-01-01,1957-01-01\n")
    with (car / "event_links.csv").open("a") as file:
        file.write("k3,sold,letter,0,,day\n")
    assert code("history", str(car), "--json") == 0
    said = json.loads(capsys.readouterr().out)
    assert said["consistent"] is False
    assert said["conflicts"] == [["k1", "k2", "k3", "letter", "made"]]
    assert code("history", str(car)) == 0
    assert "k3: letter is not before sold" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("events", "links", "told"),
    [
        ("a,1961,1960\n", "", "events.csv, row 2: not_before is '1961'"),
        ("a,soon,\n", "", "events.csv, row 2: not_before is 'soon'"),
        ("a,,\na,,\n", "", "events.csv, row 3"),
        ("a,,\nb,,\n", "k,a,c,0,,day\n", "event_links.csv, row 2: to is 'c'"),
        ("a,,\nb,,\n", "k,a,b,2,1,day\n", "event_links.csv, row 2: min is '2'"),
        ("a,,\nb,,\n", "k,a,b,0,,week\n", "event_links.csv, row 2: unit is 'week'"),
        ("a,,\nb,,\n", "k,a,b,0,,day\nk,b,a,0,,day\n", "event_links.csv, row 3"),
        ("a,1970/1961,\n", "", "must not end before it begins"),
    ],
)
def test_faults_of_the_input(
    events: str, links: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "events.csv").write_text(f"event,not_before,not_after\n{events}")
    (tmp_path / "event_links.csv").write_text(f"id,from,to,min,max,unit\n{links}")
    assert code("history", str(tmp_path), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


def test_nothing_written_down_is_no_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "parts.csv").write_text("part,name\nbonnet,Bonnet\n")
    assert code("history", str(tmp_path)) == 4
    out, err = capsys.readouterr()
    assert out == ""
    assert "No event and no evidence" in err
    assert code("history", str(tmp_path), "--json") == 4
    (reason,) = json.loads(capsys.readouterr().out)["impossible"]
    assert "No event and no evidence" in reason


def test_clashes_in_the_papers_of_the_invented_car(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The pigment is younger than the letter that praises its coat; the silencer is too old."""
    papers = {name: sheet(written(name)) for name in ("events", "event_links", "evidence")}
    write_folder(CarFolder(sheets=papers), tmp_path / "car")
    assert code("history", str(tmp_path / "car"), "--json", "--seed", "3") == 0
    said = json.loads(capsys.readouterr().out)
    assert said["conflicts"] == [
        ["green pigment first sold", "k4", "k5", "letter praises the new wing"],
        ["k13", "k14", "letter calls the car quiet", "silencer fitted"],
    ]
    claims = {(c["subject"], c["statement"]): c for c in said["originality"]}
    seats = claims["front seats", "covered when built"]
    assert set(seats["posterior"]) == {"0.1", "0.5", "0.9"}
    # A label, 8; a sewing, 25, and piping given that sewing, 1.6.
    assert seats["lr"] == pytest.approx(320)
    assert seats["posterior"]["0.5"] == pytest.approx(320 / 321)
