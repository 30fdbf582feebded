"""Results on standard output, talk on standard error, exit codes of the contract."""

from __future__ import annotations

import importlib
import json
import pkgutil
import shutil
from pathlib import Path

import click
import pytest
from tests.unit.cli.asked import code

import asfound.cli
from asfound.__main__ import COMMANDS
from asfound.demo.command import demo
from asfound.exchange import read_folder

EXAMPLE = Path(__file__).parents[3] / "docs" / "examples" / "barn-find"


@pytest.fixture
def car(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path / "car"))


def test_check_counts_rows(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("check", str(car)) == 0
    out, err = capsys.readouterr()
    assert "no fault found" in out
    assert "film.csv" in out
    assert err == ""


def test_wrong_use_is_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert code("film") == 2
    assert code("nonsense") == 2
    assert "Usage" in capsys.readouterr().err


def test_a_fault_of_the_input_is_3_and_names_the_row(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (car / "film.csv").write_text("panel,spot,x_mm,y_mm,thickness_um\nbonnet,1,1,1,-4\n")
    assert code("film", str(car), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert "film.csv, row 2: thickness_um is '-4'" in err
    assert "nothing was taken" in err


@pytest.mark.parametrize("command", ["film", "choose", "check", "load", "dossier"])
def test_an_empty_folder_is_3(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    assert code(command, str(empty)) == 3
    assert "no table" in capsys.readouterr().err


def test_a_command_says_which_table_it_needs(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (car / "film.csv").unlink()
    assert code("film", str(car)) == 3
    assert "film.csv" in capsys.readouterr().err


def test_film_keeps_the_contract(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("film", str(car), "--json") == 0
    out, _ = capsys.readouterr()
    result = json.loads(out)
    assert set(result) == {"level_um", "gauges", "panels", "next_spots"}
    assert set(result["gauges"][0]) == {"gauge", "offset_um", "slope", "u_um"}
    panels = {panel["panel"]: panel for panel in result["panels"]}
    assert set(panels) == {"bonnet", "left front wing", "left door", "right door"}
    for panel in panels.values():
        for spot in panel["spots"]:
            assert sum(spot["kinds"].values()) == pytest.approx(spot["p_later_work"], abs=1e-5)
    repaired = panels["left door"]
    assert repaired["p_later_work"] == max(p["p_later_work"] for p in panels.values())
    assert "later work" in repaired["reading"]
    assert repaired["areas"][0]["outline_wkt"].startswith("POLYGON")


def test_the_same_input_gives_the_same_output(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("film", str(car), "--json", "--seed", "3") == 0
    first = capsys.readouterr().out
    assert code("film", str(car), "--json", "--seed", "3") == 0
    assert capsys.readouterr().out == first


def test_choose_keeps_the_contract(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("choose", str(car), "--json", "--points", "4") == 0
    out, _ = capsys.readouterr()
    result = json.loads(out)
    assert set(result) == {"chosen", "front", "exact", "why", "impossible"}
    assert result["exact"] is True
    assert result["impossible"] is None
    chosen = result["chosen"]
    assert set(chosen) == {"options", "kept", "cost", "hours", "lowest_grade"}
    assert chosen["cost"] <= 1700
    assert chosen["hours"]["painter"] <= 24
    costs = [point["cost"] for point in result["front"]]
    assert costs == sorted(costs)
    assert 2 <= len(costs) <= 4
    assert {"subject", "option", "because", "runner_up", "flips_when"} <= set(result["why"][0])


def test_no_answer_is_4_with_the_clash_in_the_json(
    car: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (car / "brief.json").write_text('{"cost_max": 100, "min_grade": {"outside": 5}}')
    assert code("choose", str(car), "--json") == 4
    result = json.loads(capsys.readouterr().out)
    assert result["chosen"] is None
    assert any("cost" in line for line in result["impossible"])


def test_a_fault_of_the_program_is_5(
    car: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("asfound.cli.check.read_folder", lambda _: 1 / 0)
    assert code("check", str(car)) == 5
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_load_then_dump_gives_the_car_back(
    car: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], db: None
) -> None:
    assert code("load", str(car)) == 0
    slug = capsys.readouterr().out.strip()
    assert code("load", str(car)) == 3
    assert "replace" in capsys.readouterr().err
    assert code("dump", slug, str(tmp_path / "back")) == 0
    back, there = read_folder(tmp_path / "back"), read_folder(car)
    assert set(back.sheets) == set(there.sheets)
    for name, sheet in there.sheets.items():
        assert len(back.sheet(name)) == len(sheet), name
    assert back.brief == there.brief


def test_dump_of_an_unknown_car(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], db: None
) -> None:
    assert code("dump", "nobody", str(tmp_path / "back")) == 3
    assert "asfound cars" in capsys.readouterr().err
    assert not (tmp_path / "back").exists()


def test_every_command_that_is_written_is_listed_where_it_is() -> None:
    modules = [
        importlib.import_module(f"asfound.cli.{module.name}")
        for module in pkgutil.iter_modules(asfound.cli.__path__)
    ]
    written = {
        found.name: found
        for module in modules
        for found in vars(module).values()
        if isinstance(found, click.Command)
    }
    listed = {name: pkgutil.resolve_name(place) for name, (_, place) in COMMANDS.items()}
    assert listed == {**written, "demo": demo}


def test_the_list_shows_the_line_of_every_command_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert code("--help") == 0
    told = capsys.readouterr().out
    for name, (line, _) in COMMANDS.items():
        assert f"  {name:10}  {line}\n" in told


def test_a_command_is_loaded_when_it_is_called(capsys: pytest.CaptureFixture[str]) -> None:
    assert code("tables") == 0
    assert "`thickness_um`" in capsys.readouterr().out
    assert code("history", "--help") == 0
    assert "FOLDER" in capsys.readouterr().out
    assert code("histry") == 2
    assert "'history'" in capsys.readouterr().err
