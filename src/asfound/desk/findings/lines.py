"""Findings as the pages list them: numbered within their part or panel, with where they lead."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.urls import reverse

from asfound.desk.photos.lines import size_px
from asfound.desk.photos.subjects import Shown, shown_by
from asfound.dossier.figures import Numbered, photo_findings_svg
from asfound.record.convert.findings import Finding, finding_of
from asfound.record.models import Car, Observation
from asfound.record.reads.findings import findings_on


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingLine:
    """A finding among others; ``number`` is its place among those of its part or panel."""

    pk: int
    number: int
    finding: Finding
    shown: Shown
    page: str

    @property
    def on(self) -> str:
        """What it is on, by its name without its number."""
        return self.shown.words.removeprefix(f"{self.finding.subject} ") or self.finding.subject

    @property
    def numbered(self) -> Numbered:
        """The finding with its number, for a drawing."""
        return Numbered(number=self.number, finding=self.finding)


def finding_lines(
    car: Car, rows: Iterable[Observation], *, numbers: Sequence[int] = ()
) -> list[FindingLine]:
    """Lines of findings, numbered from 1 unless numbers are given."""
    there = list(rows)
    shown = shown_by(car, (row.subject for row in there))
    given = numbers or range(1, len(there) + 1)
    return [
        FindingLine(
            pk=row.pk,
            number=number,
            finding=finding_of(row.cells),
            shown=shown[row.subject],
            page=reverse("finding", args=(car.slug, row.pk)),
        )
        for number, row in zip(given, there, strict=True)
    ]


def lines_on(car: Car, subject: str) -> list[FindingLine]:
    """Findings of one part or panel with their numbers, in the order they came."""
    return finding_lines(car, findings_on(car, subject))


def number_of(car: Car, row: Observation) -> int:
    """Number of a finding among those of its part or panel; 0 for one that counts no longer."""
    keys = list(findings_on(car, row.subject).values_list("pk", flat=True))
    return keys.index(row.pk) + 1 if row.pk in keys else 0


def lines_on_photo(car: Car, rows: Sequence[Observation]) -> list[FindingLine]:
    """Findings of a photograph, numbered as on their panel; anew where it shows several things."""
    if len({row.subject for row in rows}) == 1:
        return finding_lines(car, rows, numbers=[number_of(car, row) for row in rows])
    return finding_lines(car, rows)


def layer_on(sha256: str, lines: Iterable[FindingLine], *, file: str) -> str:
    """Layer of the marks that lie over a photograph; empty where there are none."""
    marked = [one.numbered for one in lines if one.finding.photos[:1] == (file,)]
    if not marked:
        return ""
    try:
        wide, high = size_px(sha256)
    except (OSError, ValueError):  # the shelf has no such bytes: nothing to lie on
        return ""
    return photo_findings_svg(marked, width_px=wide, height_px=high)
