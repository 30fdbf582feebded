"""The treatment record of each piece in the dossier."""

from __future__ import annotations

import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest
from tests.unit.dossier.conftest import car_of

from asfound.dossier import make_dossier
from asfound.dossier.account import about_treatments
from asfound.record.folder import CarFolder, Sheet

PARTS = Sheet(columns=("part", "name"), rows=(("seat", "Seat"),))
TASKS = Sheet(
    columns=("task", "name", "trade", "hours_low", "hours_likely", "hours_high", "subject"),
    rows=(("S1", "Re-sew the seat", "trimmer", "1", "2", "4", "seat"),),
)
WORKED = Sheet(
    columns=("task", "subject", "person", "from_at", "to_at", "done", "no_photo"),
    rows=(
        ("S1", "seat", "Ann Rook", "2031-02-01T08:00:00Z", "2031-02-01T09:30:00Z", "", ""),
        ("S1", "seat", "Bo Linnet", "2031-02-03T08:00:00Z", "2031-02-03T08:45:00Z", "yes", "dark"),
    ),
)
USED = Sheet(
    columns=("task", "subject", "material", "batch", "amount", "unit"),
    rows=(("S1", "seat", "linen thread", "L 77", "40", "m"),),
)
RESULTS = Sheet(
    columns=("task", "subject", "kind", "value", "unit", "least", "most", "tool"),
    rows=(("S1", "seat", "depth", "3.5", "mm", "3", "4", "rule 2"),),
)


@pytest.fixture
def sewn() -> CarFolder:
    return car_of(parts=PARTS, tasks=TASKS, worked=WORKED, materials_used=USED, results=RESULTS)


def test_it_says_who_did_what_when_with_what_and_to_which_result(sewn: CarFolder) -> None:
    told = about_treatments(sewn)
    assert told is not None
    (seat,) = told["pieces"]
    assert dict(seat["facts"]) == {
        "decided": "no decision signed",
        "done": "Re-sew the seat",
        "by": "Ann Rook, Bo Linnet",
        "when (UTC)": "2031-02-01 to 2031-02-03",
        "hours": "2 h 15 min",
        "photographs": "0 before, 0 after; none taken: dark",
    }
    assert seat["materials"] == ["linen thread, 40 m, batch L 77"]
    assert seat["results"] == ["depth 3.5 mm (to be 3 to 4 mm), with rule 2"]


def test_what_goes_on_is_told_as_not_finished_and_adds_no_hours() -> None:
    rows = (("S1", "seat", "Ann Rook", "2031-02-01T08:00:00Z", "", "", ""),)
    told = about_treatments(car_of(worked=Sheet(columns=WORKED.columns, rows=rows)))
    assert told is not None
    facts = dict(told["pieces"][0]["facts"])
    assert (facts["when (UTC)"], facts["hours"]) == ("2031-02-01, not finished", "0 min")


def test_a_car_nobody_worked_on_has_no_such_section() -> None:
    assert about_treatments(car_of(parts=PARTS)) is None


def test_the_dossier_bears_it(sewn: CarFolder, tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler) is not installed")
    place = tmp_path / "dossier.pdf"
    place.write_bytes(make_dossier(sewn, made_on=date(2031, 5, 17)))
    shown = subprocess.run(["pdftotext", str(place), "-"], capture_output=True, check=True)
    words = " ".join(shown.stdout.decode().split())
    for told in ("What was done", "Ann Rook, Bo Linnet", "batch L 77", "with rule 2"):
        assert told in words
