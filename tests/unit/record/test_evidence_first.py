"""Work that destroys evidence of another piece is planned after the work on that piece."""

from __future__ import annotations

import pytest

from asfound.record.convert.made_tasks import made_tasks
from asfound.record.folder import CarFolder, Sheet

OPTIONS = (
    ("floor", "cut out the rust", "repair", "8"),
    ("floor", "leave it", "leave as found", ""),
    ("mats", "take a pattern", "clean", "3"),
    ("mats", "wash them", "clean", "2"),
)


def _sheet(columns: tuple[str, ...], *rows: tuple[str, ...]) -> Sheet:
    return Sheet(columns=columns, rows=rows)


def _car(*, floor: str, mats: str, asked: str) -> CarFolder:
    links = ("kind", "subject", "option", "other_subject", "other_option")
    return CarFolder(
        sheets={
            "options": _sheet(("subject", "option", "treatment", "hours_trimmer"), *OPTIONS),
            "subjects": _sheet(("subject", "locked_option"), ("floor", floor), ("mats", mats)),
            "option_links": _sheet(links, ("waits", "floor", "cut out the rust", "mats", asked)),
        }
    )


@pytest.mark.parametrize("asked", ["take a pattern", ""])
def test_the_evidence_comes_first(asked: str) -> None:
    made = made_tasks(_car(floor="cut out the rust", mats="take a pattern", asked=asked))
    assert made.links == ({"before": "mats: clean", "after": "floor: repair"},)


@pytest.mark.parametrize(
    ("floor", "mats"),
    [("leave it", "take a pattern"), ("cut out the rust", "wash them"), ("cut out the rust", "")],
)
def test_nothing_waits_that_was_not_chosen(floor: str, mats: str) -> None:
    assert made_tasks(_car(floor=floor, mats=mats, asked="take a pattern")).links == ()
