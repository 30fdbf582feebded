"""Photographs in the dossier: small, marked, at most so many, the others told by their number."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from PIL import Image
from tests.unit.dossier.test_dossier import text_of

from asfound.dossier import make_dossier
from asfound.dossier.account.photos import (
    MOST_LISTED,
    MOST_PICTURES,
    about_photos,
    pictured_photos,
)
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
COLUMNS = ("file", "sha256", "subject", "view", "stage", "taken_at", "by", "marks", "pair")


def photos(count: int, **last: str) -> Sheet:
    rows = [
        {
            "file": f"photos/{n:03d}.jpg",
            "sha256": f"{n:064x}",
            "subject": f"part {n % 7}",
            "view": "whole",
            "stage": "before",
            "taken_at": "2031-05-04T10:22:31" if n % 2 else "",
            "by": "trimmer",
        }
        for n in range(count)
    ]
    rows[-1] |= last
    return Sheet(columns=COLUMNS, rows=tuple(tuple(r.get(c, "") for c in COLUMNS) for r in rows))


def grey(_file: str, sha256: str) -> bytes:
    """A picture of its own for each hash."""
    shade = int(sha256, 16) * 37 % 200
    out = io.BytesIO()
    Image.new("RGB", (160, 120), (shade, 90, 60)).save(out, "JPEG")
    return out.getvalue()


def with_photos(sheet: Sheet) -> CarFolder:
    head = Sheet(
        columns=("marque", "model", "body_style", "built"),
        rows=(("Orvelle", "Tansy", "open four-seater", "1957"),),
    )
    return CarFolder(
        sheets={"car": head, "photos": sheet}, brief=None, lift=None, package={"invented": True}
    )


def images_in(pdf: bytes) -> int:
    with pikepdf.open(io.BytesIO(pdf)) as book:
        streams = [one for one in book.objects if isinstance(one, pikepdf.Stream)]
        return sum(one.get("/Subtype") == "/Image" for one in streams)


def test_pictures_stand_in_the_dossier_with_what_they_show(tmp_path: Path) -> None:
    marks = '[{"kind": "ring", "points": [[0.2, 0.2], [0.6, 0.7]], "words": "blister"}]'
    car = with_photos(photos(3, marks=marks))
    pdf = make_dossier(car, made_on=DAY, picture=grey)
    assert images_in(pdf) == 3
    text = text_of(pdf, tmp_path)
    assert "part 2: whole" in text
    assert "blister" in text
    assert "by the camera" in text
    assert pdf == make_dossier(car, made_on=DAY, picture=grey)


def test_without_pictures_the_photographs_are_listed(tmp_path: Path) -> None:
    pdf = make_dossier(with_photos(photos(3)), made_on=DAY)
    assert images_in(pdf) == 0
    assert "photos/002.jpg" in text_of(pdf, tmp_path)


def test_of_very_many_those_with_marks_come_first_and_the_others_are_counted() -> None:
    marks = '[{"kind": "words", "points": [[0.5, 0.5]], "words": "x"}]'
    car = with_photos(photos(MOST_PICTURES + MOST_LISTED + 9, marks=marks))
    shown = pictured_photos(car, grey)
    told = about_photos(car, shown)
    assert len(shown) == MOST_PICTURES
    assert shown[-1].layer
    assert len(told["listed"]) == MOST_LISTED
    assert told["others_n"] == MOST_LISTED + 9
    subjects = {one.row.text("subject") for one in shown}
    assert subjects == {f"part {n}" for n in range(7)}


def test_a_photograph_whose_bytes_are_not_there_is_listed(tmp_path: Path) -> None:
    car = with_photos(photos(2, marks="not to be read"))
    shown = pictured_photos(
        car, lambda file, sha: None if file.endswith("0.jpg") else grey(file, sha)
    )
    assert [one.row.text("file") for one in shown] == ["photos/001.jpg"]
    assert shown[0].layer == ""
    assert [row[0] for row in about_photos(car, shown)["listed"]] == ["photos/000.jpg"]


@pytest.mark.source(
    "AIC Guidelines for Practice: before, what is uncovered and covered again, after"
)
def test_what_was_not_photographed_is_counted_under_the_published_rule() -> None:
    car = with_photos(photos(1, subject="sill"))
    parts = Sheet(columns=("part", "name"), rows=(("sill", "Sill"), ("lamp", "Lamp")))
    car = replace(car, sheets={**car.sheets, "parts": parts})
    told = {row[0]: row[1:] for row in about_photos(car, [])["untouched"]}
    assert told["whole, before"] == ["1 of 2", "published rule"]
    assert told["hidden surfaces, during"] == ["2 of 2", "published rule"]
