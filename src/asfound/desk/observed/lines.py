"""Observations of one table as people made them, ready to be shown, with their fate."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from asfound.record.models import Car, Observation

SHOWN = 300
Told = Callable[[Mapping[str, str]], str]
"""What a reading says, in a few words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservedLine:
    """One observation as a list shows it."""

    pk: int
    subject: str
    cells: dict[str, str]
    told: str
    by_words: str
    taken_words: str
    fate: str


def observed_lists(car: Car, table: str, *, told: Told, subject: str = "") -> dict[str, Any]:
    """The newest observations of a table, those that count and those that do not.

    Parameters
    ----------
    car : Car
    table : str
        One of the observed tables.
    told : callable
        Cells to words.
    subject : str
        Only those on this panel, part or edge; empty for the whole car.
    """
    found = car.observations.filter(table=table)
    if subject:
        found = found.filter(subject=subject)
    newest = found.select_related("superseded_by").order_by("-position", "-pk")[:SHOWN]
    lines = [observed_line(reading, told) for reading in newest]
    return {
        "lines": [line for line in lines if not line.fate],
        "struck": [line for line in lines if line.fate],
        "shown_n": len(lines),
        "readings_n": found.count(),
    }


def observed_line(reading: Observation, told: Told) -> ObservedLine:
    """Line of one observation."""
    cells = reading.cells
    return ObservedLine(
        pk=reading.pk,
        subject=reading.subject,
        cells=cells,
        told=told(cells),
        by_words=cells.get("by", "") or "not known",
        taken_words=cells.get("taken_at", "").replace("T", " ").removesuffix("Z") or "not known",
        fate=_fate(reading, told),
    )


def _fate(reading: Observation, told: Told) -> str:
    new: Any = reading.superseded_by
    if new is not None:
        return f"corrected to {told(new.cells)}: {reading.reason}"
    return f"withdrawn: {reading.reason}" if reading.withdrawn_at is not None else ""
