"""Errands and salvaged material in the dossier."""

from __future__ import annotations

import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest
from tests.unit.dossier.conftest import car_of

from asfound.dossier import make_dossier
from asfound.dossier.account import about_supplies
from asfound.record.convert.salvage_used import MaterialUse
from asfound.record.folder import CarFolder, Sheet

ERRANDS = Sheet(
    columns=("part", "to", "work", "sent_on", "due_on", "back_on", "cost", "paper"),
    rows=(
        ("P7", "Harrow Plating", "strip and nickel", "2031-02-01", "", "2031-03-04", "410", "a;b"),
        ("seat", "A. Quill", "dye analysis", "2031-04-02", "2031-04-30", "", "", ""),
    ),
)
PARTS = Sheet(columns=("part", "name"), rows=(("P7", "bumper"), ("seat", "Seat")))
HIDE = MaterialUse(
    number="S3",
    name="hide, oxblood",
    kind="hide",
    from_car="saloon, wrecked",
    made="1957",
    what="used",
    much="a cut",
    part="seat",
    need="",
    day="2031-03-20",
    by="trimmer",
)


@pytest.fixture
def sent() -> CarFolder:
    return car_of(parts=PARTS, errands=ERRANDS)


def test_errands_say_who_did_what_and_what_is_still_out(sent: CarFolder) -> None:
    told = about_supplies(sent, ())
    assert told is not None
    first, second = told["errands"]
    assert first[:5] == [
        "P7 bumper",
        "strip and nickel",
        "Harrow Plating",
        "2031-02-01",
        "2031-03-04",
    ]
    assert first[5:] == ["2"]
    assert (second[0], second[4]) == ("seat", "out")
    assert told["out_n"] == 1


def test_material_says_from_where_and_into_what(sent: CarFolder) -> None:
    told = about_supplies(sent, [HIDE])
    assert told is not None
    assert told["material"] == [
        ["S3 hide, oxblood", "saloon, wrecked, 1957", "a cut", "seat", "used", "2031-03-20 trimmer"]
    ]


def test_a_car_without_either_has_no_such_section() -> None:
    assert about_supplies(car_of(parts=PARTS), ()) is None


def test_the_dossier_bears_both(sent: CarFolder, tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler) is not installed")
    place = tmp_path / "dossier.pdf"
    place.write_bytes(make_dossier(sent, made_on=date(2031, 5, 17), material=[HIDE]))
    shown = subprocess.run(["pdftotext", str(place), "-"], capture_output=True, check=True)
    words = " ".join(shown.stdout.decode().split())
    for told in ("Work by others", "Harrow Plating", "1 of these is still out", "S3 hide, oxblood"):
        assert told in words
