"""Keeping readings of sheet thickness that were entered at the car, once only."""

from __future__ import annotations

from typing import Any

from asfound.desk.survey.places import check_on_panel
from asfound.desk.tables.checking import check_rows
from asfound.record.actions import add_observations
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
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
        "taken_at": typed["taken_at"],
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
    if checked.faults:
        raise InputFaultsError(checked.faults)
    for row in checked.rows:
        x_mm, y_mm = float(row["x_mm"]), float(row["y_mm"])
        check_on_panel(folder, panel=row.get("panel", ""), x_mm=x_mm, y_mm=y_mm)
    return checked.rows
