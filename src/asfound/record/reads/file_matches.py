"""How files with a head like this one were matched before."""

from __future__ import annotations

from collections.abc import Sequence

from asfound.record.models import FileMatch
from asfound.record.models.file_match import fingerprint_of


def file_matches_of(table: str, head: Sequence[str]) -> list[FileMatch]:
    """Remembered matchings of files with that head, the latest first."""
    found = FileMatch.objects.filter(table=table, fingerprint=fingerprint_of(head))
    return list(found.select_related("by"))
