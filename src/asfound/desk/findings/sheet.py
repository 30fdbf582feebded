"""The unfolded car with findings on it, for the pages."""

from __future__ import annotations

from collections.abc import Sequence

from django.urls import reverse

from asfound.base import AsfoundError
from asfound.desk.findings.lines import FindingLine
from asfound.dossier.figures import findings_sheet_svg
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car


def findings_sheet(car: Car, lines: Sequence[FindingLine]) -> str:
    """Drawing with the findings given; empty where none has a place on a drawn panel."""
    drawn = set(car.panels.exclude(outline_wkt="").values_list("panel", flat=True))
    placed = [one.numbered for one in lines if one.finding.subject in drawn]
    if not any(one.finding.place_mm or one.finding.outline for one in placed):
        return ""
    try:
        return findings_sheet_svg(
            folder_of(car),
            placed,
            links=lambda name: reverse("finding-subject", args=(car.slug, name)),
        )
    except AsfoundError:
        return ""
