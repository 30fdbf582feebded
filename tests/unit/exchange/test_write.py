"""A written folder reads back equal, whole or not at all."""

from __future__ import annotations

import hashlib
import io
import json
from pathlib import Path

import pytest

from asfound.exchange import read_folder, write_folder
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, KeptFile, Sheet

CAR = CarFolder(
    sheets={
        "film": Sheet(
            columns=("panel", "spot", "x_mm", "y_mm", "thickness_um", "note of mine"),
            rows=(("door, left", "1", "1.50", "2", "100", 'said "dry"'),),
        ),
        "bays": Sheet(columns=("bay", "count"), rows=(("lift", "2"),)),
    },
    brief={"name": "quiet", "cost_max": None, "hours_max": {"trimmer": 40}, "own key": [1]},
    lift={"hook": [1, 2]},
    package={"name": "car", "invented": True},
)


def test_round_trip(tmp_path: Path) -> None:
    write_folder(CAR, tmp_path / "car")
    assert read_folder(tmp_path / "car") == CAR


def test_data_package_describes_each_table(tmp_path: Path) -> None:
    write_folder(CAR, tmp_path / "car")
    package = json.loads((tmp_path / "car" / "datapackage.json").read_text())
    film = next(r for r in package["resources"] if r["path"] == "film.csv")
    fields = {field["name"]: field for field in film["schema"]["fields"]}
    assert fields["thickness_um"] == {
        "name": "thickness_um",
        "type": "number",
        "unit": "µm",
        "constraints": {"minimum": 0, "maximum": 50_000, "required": True},
    }
    assert fields["note of mine"] == {"name": "note of mine", "type": "string"}


def test_photographs_travel_with_the_car(tmp_path: Path) -> None:
    data = b"\xff\xd8 a photograph"
    kept = KeptFile(path="photos/a/1.jpg", sha256=hashlib.sha256(data).hexdigest(), size=len(data))
    write_folder(
        CarFolder(sheets=CAR.sheets, files=(kept,)),
        tmp_path / "car",
        open_file=lambda _: io.BytesIO(data),
    )
    assert read_folder(tmp_path / "car").files == (kept,)


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(InputFaultsError, match="nothing is written over"):
        write_folder(CAR, tmp_path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["mine.txt"]


def test_a_failure_half_way_leaves_nothing(tmp_path: Path) -> None:
    def broken(_: KeptFile) -> io.BytesIO:
        raise OSError("the disk is full")

    kept = KeptFile(path="photos/1.jpg", sha256="0" * 64, size=1)
    with pytest.raises(OSError, match="full"):
        write_folder(CarFolder(files=(kept,)), tmp_path / "car", open_file=broken)
    assert not list(tmp_path.iterdir())
