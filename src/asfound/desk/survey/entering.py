"""Keeping a spot that was entered on a panel, once only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils import timezone
from shapely import Point

from asfound.desk.survey.readings import next_spot
from asfound.desk.survey.upload import check
from asfound.exchange.dialect import Written
from asfound.exchange.rules import SPOT_CIRCLE_MM
from asfound.record.actions import keep_spot
from asfound.record.convert.film import panels_of
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car


def enter_spot(*, car: Car, panel: str, by: Any, key: str = "", **typed: Any) -> str:
    """Words that tell what was kept; a spot that was sent twice is kept once.

    Parameters
    ----------
    car : Car
    panel : str
    by : user
    key : str
        Made by the sender for this spot; the same key again changes nothing.
    **typed
        ``x_mm``, ``y_mm``, ``spot``, ``gauge``, ``taken_at`` and the list ``thickness_um``.

    Raises
    ------
    InputFaultsError
        If the readings break a rule of the car folder.
    """
    kept = keep_spot(car=car, rows=lambda: _checked(car, panel, by, typed), key=key, by=by)
    if kept is None:
        return "These readings were kept already."
    count = len(kept)
    readings = f"{count} reading{'s' if count > 1 else ''}"
    return f"Spot {kept[0]['spot']}: {readings} kept. Tap the next place."


def _checked(car: Car, panel: str, by: Any, typed: dict[str, Any]) -> list[Mapping[str, str]]:
    """Readings as rows of ``film.csv``, under the same rules as a folder's."""
    folder = folder_of(car)
    _check_on_panel(folder, panel, typed["x_mm"], typed["y_mm"])
    spots = [row.text("spot") for row in folder.sheet("film") if row.text("panel") == panel]
    fixed = {
        "panel": panel,
        "spot": typed["spot"] or next_spot(spots),
        "x_mm": f"{typed['x_mm']:g}",
        "y_mm": f"{typed['y_mm']:g}",
        "gauge": typed["gauge"],
        "taken_at": typed["taken_at"] or timezone.now().strftime("%Y-%m-%dT%H:%M:%SZ"),
        "by": by.get_username(),
    }
    head = (*fixed, "thickness_um")
    rows = tuple(
        (number, (*fixed.values(), f"{thickness:g}"))
        for number, thickness in enumerate(typed["thickness_um"], start=2)
    )
    written = Written(separator=";", head=head, rows=rows)
    places = {name: i for i, name in enumerate(head)}
    checked = check(written, places, one_panel="", car=folder, file="the spot")
    if checked.sheet is None:
        raise InputFaultsError(checked.faults)
    return [dict(row.cells) for row in checked.sheet]


def _check_on_panel(folder: CarFolder, panel: str, x_mm: float, y_mm: float) -> None:
    """A tape is off by a little; a slip of the finger is off by a panel.

    A panel that nobody drew is where its spots are, so none can be off it.
    """
    if "panels" not in folder.sheets:
        return
    outline = next(p.outline for p in panels_of(folder) if p.panel == panel)
    off_mm = outline.distance(Point(x_mm, y_mm))
    if off_mm > SPOT_CIRCLE_MM:
        raise InputFaultsError(
            (
                Fault(
                    file="the spot",
                    column="x and y",
                    value=f"{x_mm:g}, {y_mm:g}",
                    rule=f"the place {x_mm:g}, {y_mm:g} mm lies {off_mm:.0f} mm off the panel",
                    remedy="Tap the panel, or correct x and y.",
                ),
            )
        )
