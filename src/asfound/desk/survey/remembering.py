"""What is kept of a matching, and under which name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from asfound.desk.survey.upload import Match
from asfound.record.actions import remember_file_match
from asfound.record.models import FileMatch

_OF_THE_DAY = "taken_at"
"""What holds for every row of one file, and not of the next."""
_LONGEST_NAME = 100


def as_before(match: FileMatch) -> Match:
    """What was said of such a file before."""
    return Match(places=match.places, fixed=match.fixed, decimal=match.decimal)


def unnamed(file: str) -> str:
    """Name that is offered where nobody named the instrument yet."""
    return f"files like {file}"[:_LONGEST_NAME]


def remember(
    name: str, match: Match, *, table: str, head: Sequence[str], file: str, by: Any
) -> str:
    """Keep the matching, and give the name it is kept under; empty where none is wanted.

    Where the name that was offered is left as it stood, the gauge's own goes before it.
    """
    gauge = match.fixed.get("gauge") or match.fixed.get("instrument") or ""
    name = name.strip()
    if gauge and name == unnamed(file):
        name = gauge[:_LONGEST_NAME]
    if name:
        remember_file_match(
            name=name,
            table=table,
            head=head,
            places=match.places,
            fixed={n: text for n, text in match.fixed.items() if n != _OF_THE_DAY},
            decimal=match.decimal,
            by=by,
        )
    return name
