"""Observations and results of sheet metal, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from asfound.measure.metal import CarMetal, SubjectMetal
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Observation
from asfound.record.results.metal import life_words, loss_words, nominal_words

SHOWN = 300
OFFERED = 400
"""Names that the field for a panel or part offers; any other may be typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservedLine:
    """One reading as the list shows it."""

    pk: int
    cells: dict[str, str]
    taken_words: str
    by_words: str
    fate: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectLine:
    """What is left of one panel or part, in words."""

    found: SubjectMetal
    nominal_words: str
    loss_u95_mm: float | None
    told_words: str
    life_words: str

    @property
    def subject(self) -> str:
        """Name of the panel or part."""
        return self.found.about.subject

    @property
    def kind(self) -> str:
        """Panel or part."""
        return self.found.about.kind

    @property
    def is_told(self) -> bool:
        """Whether the method can tell a loss."""
        return self.found.loss is not None and self.found.loss.told_apart


def subject_line(found: SubjectMetal) -> SubjectLine:
    """Line of a result."""
    loss = found.loss
    return SubjectLine(
        found=found,
        nominal_words=nominal_words(found.about.nominal),
        loss_u95_mm=None if loss is None else loss.mean_loss_mm.expanded(coverage=0.95),
        told_words=loss_words(found),
        life_words=life_words(found),
    )


def line_of(metal: CarMetal | None, kind: str, subject: str) -> SubjectLine | None:
    """Line of one panel or part; ``None`` where it was not read."""
    for found in metal.subjects if metal else ():
        if (found.about.kind, found.about.subject) == (kind, subject):
            return subject_line(found)
    return None


def observed_lines(car: Car, kind: str, subject: str) -> list[ObservedLine]:
    """Readings of a panel or part, the newest first, those that no longer count among them."""
    rows = car.observations.filter(table="metal", subject=subject).select_related("superseded_by")
    found = rows.order_by("-position", "-pk")[:SHOWN]
    return [_observed(row) for row in found if row.cells.get(kind) == subject]


def _observed(row: Observation) -> ObservedLine:
    cells: dict[str, str] = row.cells
    return ObservedLine(
        pk=row.pk,
        cells=cells,
        taken_words=cells.get("taken_at", "").replace("T", " ").removesuffix("Z") or "not known",
        by_words=cells.get("by", "") or "not known",
        fate=_fate(row),
    )


def _fate(row: Observation) -> str:
    corrected: Any = row.superseded_by
    if corrected is not None:
        return f"corrected to {corrected.cells['thickness_mm']} mm: {row.reason}"
    return f"withdrawn: {row.reason}" if row.withdrawn_at is not None else ""


def subjects_of(folder: CarFolder) -> list[tuple[str, str]]:
    """Kind and name of every panel and part that can be read, panels first."""
    panels = [row.text("panel") for row in folder.sheet("panels")]
    parts = [row.text("part") for row in folder.sheet("parts")]
    read = [(row.text("panel"), row.text("part")) for row in folder.sheet("metal")]
    panels += [panel for panel, _ in read if panel]
    parts += [part for panel, part in read if not panel]
    return [
        *(("panel", name) for name in dict.fromkeys(panels)),
        *(("part", name) for name in dict.fromkeys(parts)),
    ]


def named(subjects: list[tuple[str, str]], typed: str) -> tuple[str, str] | None:
    """Panel or part of that name, whatever its case; a panel before a part."""
    wanted = typed.strip().casefold()
    return next((entry for entry in subjects if entry[1].casefold() == wanted), None)
