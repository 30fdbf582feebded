"""The dossier of a folder shows the photographs that lie in it, and nothing from beside it."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from asfound.__main__ import app
from asfound.cli.app import run
from asfound.cli.dossier import pictures_of


def a_car(folder: Path) -> Path:
    (folder / "photos").mkdir(parents=True)
    (folder / "car.csv").write_text("marque,model,body_style,built\nOrvelle,Tansy,open,1957\n")
    rows = ["file,sha256,subject,view,stage"]
    for shade in (40, 200):
        place = folder / "photos" / f"{shade}.jpg"
        Image.new("RGB", (320, 240), (shade, 90, 60)).save(place)
        sha256 = hashlib.sha256(place.read_bytes()).hexdigest()
        rows.append(f"photos/{shade}.jpg,{sha256},car,front,before")
    (folder / "photos.csv").write_text("\n".join(rows) + "\n")
    return folder


def test_photographs_of_the_folder_stand_in_its_dossier(tmp_path: Path) -> None:
    car, out = a_car(tmp_path / "car"), tmp_path / "out.pdf"
    with pytest.raises(SystemExit) as left:
        run(app, ["dossier", str(car), "--out", str(out)])
    assert left.value.code == 0
    with pikepdf.open(out) as book:
        streams = [one for one in book.objects if isinstance(one, pikepdf.Stream)]
        assert sum(one.get("/Subtype") == "/Image" for one in streams) == 2


def test_a_file_beside_the_folder_is_not_shown(tmp_path: Path) -> None:
    car = a_car(tmp_path / "car")
    Image.new("RGB", (32, 24)).save(tmp_path / "away.jpg")
    picture = pictures_of(car)
    assert picture("photos/40.jpg", "") is not None
    for file in ("../away.jpg", str(tmp_path / "away.jpg"), "photos/none.jpg", "car.csv"):
        assert picture(file, "") is None
