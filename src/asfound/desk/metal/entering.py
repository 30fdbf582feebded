"""Keeping readings of sheet thickness that were entered at the car, once only."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from shapely import Point

from asfound.desk.tables.checking import check_rows
from asfound.measure.metal.places import PLACE_MM
from asfound.record.actions import add_observations
from asfound.record.convert.film import panels_of
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.tables import TABLES


def enter_place(*, car: Car, kind: str, subject: str, by: Any, key: str = "", **typed: Any) -> str:
    """Words that tell what was kept; readings that were sent twice are kept once.

    Parameters
    ----------
    car : Car
    kind : {"panel", "part"}
    subject : str
    by : user
    key : str
        Made by the sender for these readings; the same key again changes nothing.
    **typed
        ``x_mm``, ``y_mm``, ``gauge``, ``taken_at`` and the list ``thickness_mm``, as cells.

    Raises
    ------
    InputFaultsError
        If the readings break a rule of the car folder.
    """
    folder = folder_of(car)
    fixed = {
        kind: subject,
        "x_mm": typed["x_mm"],
        "y_mm": typed["y_mm"],
        "gauge": typed["gauge"],
        "taken_at": typed["taken_at"] or timezone.now().strftime("%Y-%m-%dT%H:%M:%SZ"),
        "by": by.get_username(),
    }
    rows = [{**fixed, "thickness_mm": thickness} for thickness in typed["thickness_mm"]]
    kept = add_observations(
        car=car, table="metal", rows=checked_metal(rows, folder), by=by, key=key
    )
    if not kept:
        return "These readings were kept already."
    count = len(kept)
    return f"{count} reading{'s' if count > 1 else ''} kept on {subject}. Tap the next place."


def checked_metal(rows: list[dict[str, str]], folder: CarFolder) -> tuple[dict[str, str], ...]:
    """Rows of ``metal.csv`` under the same rules as a folder's.

    Raises
    ------
    InputFaultsError
        If one breaks a rule, or lies off its panel.
    """
    columns = tuple(
        TABLES["metal"].column(name) for name in dict.fromkeys(c for r in rows for c in r)
    )
    checked = check_rows(rows, columns, table="metal", folder=folder)
    off = (_off_panel(row, folder) for row in rows if not checked.faults)
    faults = checked.faults or tuple(fault for fault in off if fault is not None)
    if faults:
        raise InputFaultsError(faults)
    return checked.rows


def _off_panel(row: dict[str, str], folder: CarFolder) -> Fault | None:
    """A tape is off by a little; a slip of the finger is off by a panel."""
    drawn = panels_of(folder) if "panels" in folder.sheets else ()
    outline = next((p.outline for p in drawn if p.panel == row.get("panel")), None)
    x, y = row["x_mm"], row["y_mm"]
    off_mm = 0.0 if outline is None else outline.distance(Point(float(x), float(y)))
    if off_mm <= PLACE_MM:
        return None
    return Fault(
        file="the place",
        column="x and y",
        value=f"{x}, {y}",
        rule=f"the place {x}, {y} mm lies {off_mm:.0f} mm off the panel",
        remedy="Tap the panel, or correct x and y.",
    )
