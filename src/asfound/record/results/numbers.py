"""The numbers check as ``asfound numbers --json`` prints it, and in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from asfound.record.convert.numbers import CarMark
from asfound.weigh.numbers import PreservationClass

LIMIT = (
    "A verdict says to what a mark was held. “Same” says that the characters agree, not that the "
    "part is the one first fitted: a number can be stamped anew, and a record can be wrong."
)
"""Stands beside the verdicts wherever they are shown."""
_FIELDS = (
    "method",
    "character_style",
    "surface_note",
    "fixing",
    "photo",
    "scale_in_photo",
    "read_on",
    "read_by",
)


def numbers_json(marks: Iterable[CarMark], classes: Iterable[PreservationClass]) -> dict[str, Any]:
    """Every mark with its checks, and the classes that documents give."""
    return {
        "marks": [_mark(mark) for mark in marks],
        "classes": [
            {
                "code": one.code,
                "class": one.given,
                "edition": one.edition,
                "document": one.document,
                "words": one.words,
            }
            for one in classes
        ],
        "limit": LIMIT,
    }


def _mark(mark: CarMark) -> dict[str, Any]:
    judged, reading = mark.judged, mark.judged.reading
    return {
        "kind": reading.kind,
        "where": reading.where,
        "part": mark.part,
        "text_as_read": mark.row.text("text_as_read"),
        "expected": reading.expected,
        "source": reading.source,
        **{field: mark.row.text(field) for field in _FIELDS},
        "verdict": judged.verdict,
        "against": judged.against,
        "words": judged.words,
        "checks": [
            {"verdict": check.verdict, "against": check.against, "why": check.why}
            for check in judged.checks
        ],
        "check_digit": None
        if judged.digit is None
        else {"outcome": judged.digit.outcome, "why": judged.digit.why},
    }
