"""``asfound metal``: the result on standard output, refusals with their codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code

METAL = """panel,x_mm,y_mm,thickness_mm,gauge,taken_at
sill,100,50,0.6,M3,2017
sill,400,50,0.9,M3,2017
"""
NOMINALS = "panel,nominal,system,tolerance_mm,least_mm\nsill,20,SWG,0.05,0.5\n"
CAR = "marque,model,body_style,built\nOrvelle,Tansy,open four-seater,1957\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "car.csv").write_text(CAR)
    (tmp_path / "metal.csv").write_text(METAL)
    (tmp_path / "sheet_nominals.csv").write_text(NOMINALS)
    return tmp_path


def test_json_alone_stands_on_standard_output(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("metal", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    (sill,) = json.loads(out)["subjects"]
    assert sill["nominal"]["system"] == "SWG"
    assert sill["worst_loss_mm"]["value"] == pytest.approx(0.036 * 25.4 - 0.6)
    assert [(p["x_mm"], p["thickness_mm"]) for p in sill["places"]] == [(100, 0.6), (400, 0.9)]
    assert err == ""


def test_words_state_system_life_and_what_is_assumed(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("metal", str(folder)) == 0
    out = capsys.readouterr().out
    assert "20 SWG, 0.914 mm" in out
    assert "19 years to 0.5 mm" in out
    assert "M3: a standard uncertainty of 0.05 mm is assumed" in " ".join(out.split())
    assert "under local rules" in out


def test_a_nominal_that_its_system_lacks_is_3(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "sheet_nominals.csv").write_text("panel,nominal,system\nsill,15,MSG\n")
    assert code("metal", str(folder), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert "sheet_nominals.csv, row 2: nominal is '15'" in err


def test_a_car_without_metal_is_3(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "metal.csv").unlink()
    assert code("metal", str(folder)) == 3
    assert "no reading of sheet thickness" in capsys.readouterr().err
