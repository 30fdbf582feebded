"""``asfound polish`` and ``asfound gaps``: results, words, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code


@pytest.fixture
def car(tmp_path: Path) -> Path:
    spots = "".join(
        f"bonnet,edge,E{i},{before},{before - taken},2,soft pad\n"
        for i, (before, taken) in enumerate([(200, 10), (210, 11), (220, 9), (230, 10), (240, 10)])
    )
    tables = {
        "polish": f"panel,area,spot,before_um,after_um,passes,process\n{spots}",
        "polish_floors": "panel,area,floor_um,basis\nbonnet,edge,150,guess\n",
        "edges": "edge,twin,least_mm,most_mm\nleft door,right door,3,5\nright door,,,\nlid,,,\n",
        "gaps": "edge,along_mm,gap_mm,flush_mm\n"
        "left door,0,4,0.5\nleft door,300,5.5,0.5\nleft door,600,7,0.5\n"
        "right door,0,4,0.5\nright door,600,4.1,0.5\nlid,0,3,\n",
    }
    for name, text in tables.items():
        (tmp_path / f"{name}.csv").write_text(text)
    return tmp_path


def test_polish_says_what_is_left_and_that_the_floor_is_a_guess(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("polish", str(car)) == 0
    out, err = capsys.readouterr()
    assert "bonnet, edge: floor 150 µm, guess" in out
    assert "held by spot E0" in out
    assert "The floor is a guess" in out
    assert "No dry sanding" in out
    assert "dust mask" in out
    assert err == ""


def test_polish_as_json(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("polish", str(car), "--json", "--probability", "0.8") == 0
    said = json.loads(capsys.readouterr().out)
    assert said["asked_probability"] == 0.8
    (removal,) = said["removals"]
    assert removal["per_pass_um"]["value"] == pytest.approx(5.0)
    assert removal["told_apart"] is True
    (area,) = said["areas"]
    assert area["floor"] == {"floor_um": 150.0, "basis": "guess", "source": ""}
    assert area["spots"][0]["over_floor_um"]["value"] == pytest.approx(40.0)
    (process,) = area["processes"]
    assert process["passes"] == min(process["passes_by_spot"].values())
    assert process["p_stays"] >= 0.8


def test_gaps_in_words(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("gaps", str(car)) == 0
    out, _ = capsys.readouterr()
    assert "runs out by +3.00" in out
    assert "too wide at its end" in out
    assert "gap run-out clearly differs" in out
    assert "two places of the edge" in out
    assert "assumed for" in out


def test_gaps_as_json(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("gaps", str(car), "--json") == 0
    said = json.loads(capsys.readouterr().out)
    left, right, lid = said["edges"]
    assert left["gap"]["run_out_mm"]["value"] == pytest.approx(3.0)
    assert left["gap"]["tapers"] is True
    assert [a["stand"] for a in left["against"]] == ["within", "too wide", "too wide"]
    assert right["against"] == []
    assert lid["gap"] is None
    (twins,) = said["twins"]
    assert (twins["left"], twins["right"]) == ("left door", "right door")
    assert twins["gap_run_out"]["difference_mm"]["value"] == pytest.approx(2.9)


@pytest.mark.parametrize("command", ["polish", "gaps"])
def test_nothing_read_is_no_answer(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "polish.csv").write_text("panel,spot,before_um,after_um,passes\n")
    (tmp_path / "gaps.csv").write_text("edge,along_mm,gap_mm\n")
    assert code(command, str(tmp_path)) == 4
    out, err = capsys.readouterr()
    assert out == ""
    assert "read" in err


def test_a_floor_of_nothing_is_refused(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (car / "polish_floors.csv").write_text("panel,area,floor_um,basis\nbonnet,edge,0,guess\n")
    assert code("polish", str(car)) == 3
    assert "more than zero" in capsys.readouterr().err
