"""How far a place lies off its panel."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Point

from asfound.exchange.rules import SPOT_CIRCLE_MM
from asfound.record.convert.film import panels_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Sheet


def off_panel_mm(folder: CarFolder, *, panel: str, x_mm: float, y_mm: float) -> float:
    """Distance of a place from its panel; 0 on it, beside it by a tape's slip, or if none is drawn.

    A tape is off by a little; a slip of the finger is off by a panel. A panel that nobody drew is
    where its spots are, so none can be off it.
    """
    sheet = Sheet(columns=("panel", "x_mm", "y_mm"), rows=((panel, f"{x_mm!r}", f"{y_mm!r}"),))
    return next((off_mm for _, off_mm in rows_off_panel(sheet, folder)), 0.0)


def check_on_panel(folder: CarFolder, *, panel: str, x_mm: float, y_mm: float) -> None:
    """Raise where a place that was entered lies off its panel.

    Raises
    ------
    InputFaultsError
        If it does.
    """
    off_mm = off_panel_mm(folder, panel=panel, x_mm=x_mm, y_mm=y_mm)
    if off_mm:
        place = f"{x_mm:g}, {y_mm:g}"
        fault = Fault(
            file="the place",
            column="x and y",
            value=place,
            rule=f"the place {place} mm lies {off_mm:.0f} mm off the panel",
            remedy="Tap the panel, or correct x and y.",
        )
        raise InputFaultsError((fault,))


def rows_off_panel(sheet: Sheet, folder: CarFolder) -> Iterator[tuple[int, float]]:
    """Index of each row whose place lies off its panel, and by how many mm."""
    if "panels" not in folder.sheets:
        return
    outlines = {drawn.panel: drawn.outline for drawn in panels_of(folder)}
    for i, row in enumerate(sheet):
        outline = outlines.get(row.text("panel"))
        try:
            place = Point(row.number("x_mm"), row.number("y_mm"))
        except (KeyError, ValueError):
            continue  # no place, or the cell's own fault is already told
        if outline is not None:
            off_mm = outline.distance(place)
            if off_mm > SPOT_CIRCLE_MM:
                yield i, off_mm
