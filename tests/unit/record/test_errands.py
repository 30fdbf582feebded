"""Errands read as days and words; papers that travel with the car folder."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from asfound.exchange import read_folder, write_folder
from asfound.record.convert.errands import day_words, days_of, due_words, errand_of
from asfound.record.folder import CarFolder, KeptFile, Sheet

TODAY = date(2026, 11, 25)


def told(**cells: str) -> dict[str, str]:
    return {"to": "Brisk Plating", "work": "zinc plating", "sent_on": "2026-11-02", **cells}


@pytest.mark.parametrize(
    ("due", "words", "overdue"),
    [
        ("2026-11-24", "1 day overdue, was due Tuesday 24 November 2026", True),
        ("2026-11-25", "due today, Wednesday 25 November 2026", False),
        ("2026-11-26", "due tomorrow, Thursday 26 November 2026", False),
        ("2026-12-04", "due in 9 days, Friday 4 December 2026", False),
        ("2026-11", "due in 5 days, 2026-11", False),
        ("2026-10", "25 days overdue, was due 2026-10", True),
        ("2026-11-20/2026-11-27", "due in 2 days, 2026-11-20/2026-11-27", False),
        ("2026-12-01/..", "due 2026-12-01/..", False),
        ("", "no day agreed", False),
    ],
)
def test_due_days_in_plain_words(due: str, words: str, overdue: bool) -> None:
    errand = errand_of(told(due_on=due), today=TODAY)
    assert due_words(errand) == words
    assert errand.is_overdue is overdue


def test_what_is_back_is_not_overdue() -> None:
    errand = errand_of(told(due_on="2026-11-10", back_on="2026-11-12"), today=TODAY)
    assert not errand.is_overdue
    assert errand.days_out == 10
    assert due_words(errand) == "back Thursday 12 November 2026"


def test_days_that_cannot_be_read_are_none() -> None:
    assert days_of("whenever") == (None, None)
    assert days_of("2026-02-30") == (None, None) or days_of("2026-02-30")[0] is None
    assert day_words("whenever") == "whenever"


def test_papers_travel_with_the_folder(tmp_path: Path) -> None:
    kept = KeptFile(path="papers/a.pdf", sha256="", size=3)
    errands = Sheet(
        columns=("part", "to", "work", "sent_on", "paper"),
        rows=(("1", "Brisk Plating", "zinc plating", "2026-11-02", "papers/a.pdf"),),
    )
    parts = Sheet(columns=("part", "name"), rows=(("1", "hook"),))
    car = CarFolder(sheets={"errands": errands, "parts": parts}, files=(kept,))
    paper = tmp_path / "a.pdf"
    paper.write_bytes(b"%PDF")
    write_folder(car, tmp_path / "car", open_file=lambda _: paper.open("rb"))
    (read,) = read_folder(tmp_path / "car").files
    assert (read.path, read.size) == ("papers/a.pdf", 4)
