"""Tape measurements become a car folder that can be read back and measured on."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from tests.unit.cli.asked import code

from asfound.exchange import read_folder
from asfound.measure.sheet import BodyForm
from asfound.record.convert.film import panels_of

TAPE = ("--wheelbase", "2400", "--length", "3900", "--width", "1500", "--height", "1400")


@pytest.mark.parametrize("form", [form.value for form in BodyForm])
def test_every_form_gives_a_folder_without_a_fault(form: str, tmp_path: Path) -> None:
    place = tmp_path / "car"
    assert code("sheet", str(place), "--form", form, *TAPE) == 0
    panels = panels_of(read_folder(place))
    assert len(panels) >= 10
    assert all(panel.outline.is_valid for panel in panels)


def test_areas_are_those_of_the_outlines(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "car"
    named = ("--marque", "Selvany", "--model", "Orla", "--built", "1958~")
    assert code("sheet", str(place), "--form", "saloon", *TAPE, *named) == 0
    out, err = capsys.readouterr()
    assert "assumed, for nobody taped it: front overhang" in err
    car = read_folder(place)
    assert car.name == "Selvany Orla"
    roof = next(row for row in car.sheet("panels") if row.text("panel") == "roof")
    area_m2 = shapely.from_wkt(roof.text("outline_wkt")).area / 1e6
    (line,) = (line for line in out.splitlines() if line.startswith("roof"))
    assert float(line.split()[-1]) == pytest.approx(area_m2, abs=0.005)


def test_lengths_that_contradict_are_refused_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "car"
    tape = (*TAPE[:3], "2000", *TAPE[4:])  # shorter than the wheelbase
    assert code("sheet", str(place), "--form", "van", *tape) == 3
    assert "length_mm" in capsys.readouterr().err
    assert not place.exists()


@pytest.mark.parametrize(("form", "named"), [("coupé", "boot lid"), ("pick-up", "bed")])
def test_the_length_behind_is_a_lid_or_a_bed(
    form: str, named: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("sheet", str(tmp_path / "car"), "--form", form, *TAPE) == 0
    assert named in capsys.readouterr().err.split("nobody taped it: ")[1].split(", ")


def test_a_name_that_would_be_lost_is_asked_for_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "car"
    assert code("sheet", str(place), "--form", "van", *TAPE, "--marque", "Selvany") == 2
    assert "--model" in capsys.readouterr().err
    assert not place.exists()
