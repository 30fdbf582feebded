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
    numbers: str
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
        numbers=numbers_of(cells),
        cells=cells,
        viewing=f"{viewing.illuminant}, {viewing.observer}" if viewing.is_stated else "not stated",
        swatch=swatch_svg(lab, words=numbers_of(cells)),
        by_words=cells.get("by", "") or "not known",
        taken_words=cells.get("taken_at", "").replace("T", " ").removesuffix("Z") or "not known",
        fate=_fate(reading),
    )


def numbers_of(cells: dict[str, str]) -> str:
    """L*, a* and b* of a reading."""
    return ", ".join(cells.get(axis, "") for axis in "Lab").replace("-", "\N{MINUS SIGN}")


def _lists(found: Any) -> dict[str, Any]:
    newest = found.select_related("superseded_by").order_by("-position", "-pk")[:SHOWN]
    lines = [colour_line(reading) for reading in newest]
    return {
        "places": _by_place(lines),
        "struck": [line for line in lines if line.fate],
        "shown_n": len(lines),
        "readings_n": found.current().count(),
    }


def _by_place(lines: Iterable[ColourLine]) -> list[list[ColourLine]]:
    """Readings that count, together where one person read one place in one way on one day."""
    met: dict[tuple[str, ...], list[ColourLine]] = {}
    for line in lines:
        if not line.fate:
            place = (line.cells["x_mm"], line.cells["y_mm"], line.cells["exposure"])
            taken = (line.viewing, line.by_words, line.taken_words[:10])
            met.setdefault((line.subject, *place, *taken), []).append(line)
    return list(met.values())


def _fate(reading: Observation) -> str:
    new: Any = reading.superseded_by
    if new is not None:
        return f"corrected to {numbers_of(new.cells)}: {reading.reason}"
    return f"withdrawn: {reading.reason}" if reading.withdrawn_at is not None else ""
