"""Colour readings as people took them, ready to be shown: place, numbers, who, and their fate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from asfound.dossier.figures import swatch_svg
from asfound.record.convert.colour import viewing_of
from asfound.record.models import Car, Observation

SHOWN = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourLine:
    """One reading as the list shows it."""

    pk: int
    subject: str
    cells: dict[str, str]
    viewing: str
    swatch: str
    by_words: str
    taken_words: str
    fate: str


def lines_of_car(car: Car) -> dict[str, Any]:
    """The newest readings of the car, those that count and those that do not."""
    return _lists(car.observations.filter(table="colour"))


def lines_of_subject(car: Car, kind: str, name: str) -> dict[str, Any]:
    """The newest readings on one panel or part."""
    found = car.observations.filter(table="colour", subject=name)
    return _lists(found.filter(**{f"cells__{kind}": name}))


def colour_line(reading: Observation) -> ColourLine:
    """Line of a reading."""
    cells = reading.cells
    viewing = viewing_of(cells.get("illuminant", ""), cells.get("observer", ""))
    lab = (float(cells["L"]), float(cells["a"]), float(cells["b"]))
    return ColourLine(
        pk=reading.pk,
        subject=reading.subject,
        cells=cells,
        viewing=f"{viewing.illuminant}, {viewing.observer}" if viewing.is_stated else "not stated",
        swatch=swatch_svg(lab, words=f"L* {cells['L']}, a* {cells['a']}, b* {cells['b']}"),
        by_words=cells.get("by", "") or "not known",
        taken_words=cells.get("taken_at", "").replace("T", " ").removesuffix("Z") or "not known",
        fate=_fate(reading),
    )


def _lists(found: Any) -> dict[str, Any]:
    newest = found.select_related("superseded_by").order_by("-position", "-pk")[:SHOWN]
    lines = [colour_line(reading) for reading in newest]
    return {
        "lines": _counting(lines),
        "struck": [line for line in lines if line.fate],
        "shown_n": len(lines),
        "readings_n": found.count(),
    }


def _counting(lines: Iterable[ColourLine]) -> list[ColourLine]:
    return [line for line in lines if not line.fate]


def _fate(reading: Observation) -> str:
    new: Any = reading.superseded_by
    if new is not None:
        told = ", ".join(new.cells.get(axis, "") for axis in "Lab")
        return f"corrected to {told}: {reading.reason}"
    return f"withdrawn: {reading.reason}" if reading.withdrawn_at is not None else ""
