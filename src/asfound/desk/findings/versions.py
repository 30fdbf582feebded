"""The history of a finding: each version, who wrote it and when, and what came after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from asfound.record.convert.findings import Finding, finding_of
from asfound.record.models import Observation

_WORDS = {
    "subject": "on",
    "kind": "what it is",
    "extent": "how far it goes",
    "severity": "severity",
    "x_mm": "x mm",
    "y_mm": "y mm",
    "outline_wkt": "outline",
    "photo": "photographs",
    "photo_marks": "mark on the photograph",
    "found_on": "found on",
    "found_by": "found by",
    "note": "note",
    "opinion": "opinion",
    "opinion_by": "opinion by",
    "opinion_on": "opinion of",
    "active": "goes on",
    "advice": "advice",
}
_DRAWN = ("outline_wkt", "photo_marks", "photo")


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionLine:
    """One version: what it says, who wrote it and when, what it changed and why."""

    pk: int
    finding: Finding
    by: str
    at: datetime
    why: str
    changed: tuple[str, ...]
    fate: str


def version_lines(versions: Sequence[Observation]) -> list[VersionLine]:
    """Lines of versions, the latest first as they are given."""
    before: list[Observation | None] = [*versions[1:], None]
    return [_line(row, older) for row, older in zip(versions, before, strict=True)]


def _line(row: Observation, older: Observation | None) -> VersionLine:
    return VersionLine(
        pk=row.pk,
        finding=finding_of(row.cells),
        by=row.entered_by.get_username() if row.entered_by else "from the car folder",
        at=row.entered_at,
        why=older.reason if older else "",
        changed=tuple(_changes(older, row)) if older else (),
        fate=_fate(row),
    )


def _changes(older: Observation, row: Observation) -> list[str]:
    """Each cell that is another one now, with both texts where they can be read."""
    found = []
    for name, words in _WORDS.items():
        was, now = older.cells.get(name, ""), row.cells.get(name, "")
        if was == now:
            continue
        if name in _DRAWN:
            found.append(
                f"{words} {'taken away' if not now else 'added' if not was else 'changed'}"
            )
        else:
            found.append(f"{words}: {was or 'nothing'} → {now or 'nothing'}")
    return found


def _fate(row: Observation) -> str:
    if row.withdrawn_at is None:
        return ""
    by = row.withdrawn_by.get_username() if row.withdrawn_by else "not known"
    return f"withdrawn by {by}: {row.reason}"
