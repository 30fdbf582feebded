"""Rows of ``findings.csv`` become findings: what was observed, and apart from it an opinion."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import shapely
from shapely import Polygon

from asfound.base import InputError
from asfound.craft.conditions import Severity, severity_of
from asfound.record.convert.photo_marks import Mark, marks_of
from asfound.record.folder import CarFolder

_MM2_A_CM2 = 100.0
_MM2_A_DM2 = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """What somebody makes of a finding: theirs alone, and never part of the observation.

    ``active`` says whether the change goes on; ``None`` where it is not known.
    """

    says: str
    advice: str
    active: bool | None
    by: str
    on: str

    @property
    def active_words(self) -> str:
        """Whether it goes on, in words."""
        if self.active is None:
            return ""
        return "still going on" if self.active else "at rest"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something found on a part or panel.

    Parameters
    ----------
    subject, kind, extent : str
    severity : float
        0 to 4.
    place_mm : tuple of float or None
        In the panel's own mm.
    outline : Polygon or None
        In the panel's own mm.
    photos : tuple of str
        Files of photographs; the marks lie over the first.
    marks : tuple of Mark
    found_on, found_by, note : str
    opinion : Opinion or None
    """

    subject: str
    kind: str
    extent: str
    severity: float
    place_mm: tuple[float, float] | None
    outline: Polygon | None
    photos: tuple[str, ...]
    marks: tuple[Mark, ...]
    found_on: str
    found_by: str
    note: str
    opinion: Opinion | None

    @property
    def step(self) -> Severity:
        """Step of severity."""
        return severity_of(self.severity)

    @property
    def told(self) -> str:
        """Kind, extent and severity in a few words."""
        return f"{self.kind}, {self.extent}, {self.step.word} ({self.step.grade} of 4)"

    @property
    def place_words(self) -> str:
        """Where it lies on its panel; empty where nobody said."""
        if self.place_mm is None:
            return ""
        x_mm, y_mm = self.place_mm
        return f"x {x_mm:g}, y {y_mm:g} mm"

    @property
    def opened(self) -> str:
        """Person and day, or that they were not recorded."""
        by = self.found_by or "person not recorded"
        return f"{by}, {self.found_on or 'day not recorded'}"


def finding_of(cells: Mapping[str, str]) -> Finding:
    """Finding that a row tells; an outline or a mark that nobody can draw is left out."""
    return Finding(
        subject=cells.get("subject", ""),
        kind=cells.get("kind", ""),
        extent=cells.get("extent", ""),
        severity=float(cells.get("severity") or 0),
        place_mm=_place(cells),
        outline=_outline(cells.get("outline_wkt", "")),
        photos=files_of(cells.get("photo", "")),
        marks=_marks(cells.get("photo_marks", "")),
        found_on=cells.get("found_on", ""),
        found_by=cells.get("found_by", ""),
        note=cells.get("note", ""),
        opinion=_opinion(cells),
    )


def findings_of(folder: CarFolder, *, subject: str = "") -> tuple[Finding, ...]:
    """Findings of a car in the order of the table, or of one part or panel."""
    rows = (row for row in folder.sheet("findings") if subject in ("", row.text("subject")))
    return tuple(finding_of(row.cells) for row in rows)


def by_subject(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    """Findings by what they are on, in the order in which the subjects come first."""
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.subject, []).append(finding)
    return found


def files_of(text: str) -> tuple[str, ...]:
    """Files that a cell names, with ``;`` between them."""
    return tuple(dict.fromkeys(name for part in text.split(";") if (name := part.strip())))


def area_words(outline: Polygon) -> str:
    """Area of an outline for people, in cm² or dm² (a hand is about two dm²).

    Examples
    --------
    >>> area_words(shapely.box(0, 0, 60, 25))
    '15 cm² outlined'
    """
    if outline.area < _MM2_A_DM2:
        return f"{max(outline.area / _MM2_A_CM2, 0.1):.2g} cm² outlined"
    return f"{outline.area / _MM2_A_DM2:.3g} dm² outlined"


def _place(cells: Mapping[str, str]) -> tuple[float, float] | None:
    x_mm, y_mm = cells.get("x_mm", ""), cells.get("y_mm", "")
    return (float(x_mm), float(y_mm)) if x_mm and y_mm else None


def _outline(text: str) -> Polygon | None:
    if not text:
        return None
    try:
        shape = shapely.from_wkt(text)
    except shapely.errors.GEOSException:
        return None
    return shape if isinstance(shape, Polygon) and not shape.is_empty else None


def _marks(text: str) -> tuple[Mark, ...]:
    try:
        return marks_of(text)
    except InputError:
        return ()


def _opinion(cells: Mapping[str, str]) -> Opinion | None:
    said = {name: cells.get(name, "") for name in ("opinion", "advice", "active")}
    if not any(said.values()):
        return None
    return Opinion(
        says=said["opinion"],
        advice=said["advice"],
        active=None if not said["active"] else said["active"] == "yes",
        by=cells.get("opinion_by", ""),
        on=cells.get("opinion_on", ""),
    )
