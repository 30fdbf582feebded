"""A name without a place to break stays inside its cell and inside the page."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from asfound.dossier import make_dossier
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
A4_WIDTH_PT = 595.3
LEFT_PT, RIGHT_PT = 25 / 25.4 * 72, A4_WIDTH_PT - 22 / 25.4 * 72
LONG = "wing_left_rear_lower_corner_behind_the_bumper_iron_bracket_x7"


def _renamed(car: CarFolder, table: str, column: str) -> CarFolder:
    """The car with a long name in the first row of a table, wherever that name stands."""
    sheet = car.sheet(table)
    old = next(iter(sheet)).text(column)
    sheets = {
        kept: Sheet(
            columns=one.columns,
            rows=tuple(
                tuple(
                    LONG if cell == old and name.endswith(column) else cell
                    for name, cell in zip(one.columns, row, strict=True)
                )
                for row in one.rows
            ),
        )
        for kept, one in car.sheets.items()
    }
    return replace(car, sheets=sheets)


def _words(pdf: bytes, place: Path) -> list[tuple[float, float, str]]:
    """Left edge, right edge and letters of every word on an upright page [pt]."""
    place.write_bytes(pdf)
    told = subprocess.run(
        ["pdftotext", "-bbox", str(place), "-"], capture_output=True, check=True, text=True
    ).stdout
    pages = re.findall(r'<page width="([\d.]+)".*?</page>', told, flags=re.S)
    assert pages
    upright = [
        page[0]
        for page in re.finditer(r'<page width="([\d.]+)".*?</page>', told, flags=re.S)
        if float(page[1]) == pytest.approx(A4_WIDTH_PT, abs=1)
    ]
    found = re.findall(r'xMin="([\d.]+)".*?xMax="([\d.]+)".*?>([^<]*)</word>', "\n".join(upright))
    return [(float(left), float(right), word) for left, right, word in found]


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")
@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("panels", "panel"),
        ("film", "gauge"),
        ("film", "spot"),
        ("options", "subject"),
        ("options", "option"),
        ("car", "model"),
    ],
)
def test_no_word_leaves_the_page(car: CarFolder, tmp_path: Path, table: str, column: str) -> None:
    words = _words(make_dossier(_renamed(car, table, column), made_on=DAY), tmp_path / "d.pdf")
    out = [w for w in words if w[0] < LEFT_PT - 1 or w[1] > RIGHT_PT + 1]
    assert not out
    pieces = "".join(word.replace("\u200b", "") for *_, word in words)
    assert LONG[:12] in pieces
