"""Errands as a list shows them: who has it, until when, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils import timezone

from asfound.record.convert.errands import Errand, day_words, due_words, errand_of
from asfound.record.models import Car, Observation, Part
from asfound.record.reads.errands import open_errands

SOON_DAYS = 7
OVERDUE, SOON, LATER, NO_DAY = "Overdue", "Due within a week", "Due later", "No day agreed"


@dataclass(frozen=True, slots=True, kw_only=True)
class ErrandLine:
    """One errand."""

    pk: int
    car: Car
    part: str
    name: str
    place: str
    errand: Errand
    due_words: str
    sent_words: str
    group: str
    cost: str
    papers_n: int

    @property
    def is_elsewhere(self) -> bool:
        """Whether the register has the part somewhere else than it was sent to."""
        return self.errand.is_out and self.place != self.errand.to


def errand_lines(rows: Iterable[Observation]) -> list[ErrandLine]:
    """Lines of errands in their order, each with its part's name, in one query more."""
    rows = list(rows)
    numbers = {(row.car_id, row.subject) for row in rows}
    found = Part.objects.filter(
        car__in={car for car, _ in numbers}, part__in={part for _, part in numbers}
    )
    parts = {(part.car_id, part.part): part for part in found}
    return [errand_line(row, parts.get((row.car_id, row.subject))) for row in rows]


def errand_line(row: Observation, part: Part | None) -> ErrandLine:
    """Line of one errand."""
    errand = errand_of(row.cells, today=timezone.localdate())
    return ErrandLine(
        pk=row.pk,
        car=row.car,
        part=row.subject,
        name=part.name if part is not None else row.subject,
        place=part.place if part is not None else "",
        errand=errand,
        due_words=due_words(errand),
        sent_words=day_words(errand.sent),
        group=_group(errand),
        cost=row.cells.get("cost", ""),
        papers_n=len([path for path in row.cells.get("paper", "").split(";") if path.strip()]),
    )


def out_words(parts: Iterable[Part]) -> dict[int, str]:
    """Where each part that is out is and when it is due, by the part's key."""
    today = timezone.localdate()
    return {
        key: told_out(row.cells, errand_of(row.cells, today=today))
        for key, row in open_errands(parts).items()
    }


def told_out(cells: Mapping[str, str], errand: Errand) -> str:
    """Where it is out and when it is due, in a few words."""
    return f"out at {cells.get('to', '')}, {due_words(errand)}"


def _group(errand: Errand) -> str:
    if errand.is_overdue:
        return OVERDUE
    if errand.days_left is None:
        return NO_DAY
    return SOON if errand.days_left <= SOON_DAYS else LATER
