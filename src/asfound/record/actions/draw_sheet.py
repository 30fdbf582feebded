"""A car's panels drawn from tape measurements: a new car, or a sheet drawn anew."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.measure.sheet import SheetPanel
from asfound.record.actions.load import load_car
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.sheet import panels_sheet
from asfound.record.convert.storing import store_rows
from asfound.record.folder import CarFolder, Sheet
from asfound.record.log import write_entry
from asfound.record.models import Car
from asfound.record.reads import panels_observed

Drawn = tuple[SheetPanel, ...]
_PANEL = (
    "panel",
    "section",
    "substrate",
    "outline_wkt",
    "view",
    "nominal_mm",
    "placement",
    "extra",
)
"""What the log keeps of a panel that was replaced."""


@transaction.atomic
def start_car(
    *, identity: Mapping[str, str], panels: Drawn, tape: Mapping[str, Any], by: Any
) -> Car:
    """Car of the record that begins with its identity and its panels.

    Parameters
    ----------
    identity : mapping
        Cells of ``car.csv`` by column, checked by the caller; empty ones are left out.
    panels : tuple of SheetPanel
    tape : mapping
        What the panels were drawn from, for the log.
    by : user or None

    Raises
    ------
    InputFaultsError
        If the record has a car of that name already.
    """
    filled = {column: cell for column, cell in identity.items() if cell}
    sheets = {
        "car": Sheet(columns=tuple(filled), rows=(tuple(filled.values()),)),
        "panels": panels_sheet(panels),
    }
    car = load_car(folder=CarFolder(sheets=sheets), by=by)
    write_entry(action="draw sheet", by=by, car=car, after={"tape": dict(tape)})
    return car


def check_can_redraw(car: Car) -> None:
    """Raise where a new sheet would leave observations without their panel.

    Raises
    ------
    InputError
        If anything was read or found on a panel.
    """
    held = panels_observed(car)
    if held:
        raise InputError(
            field="panels",
            got=f"drawn, and {len(held)} of them with readings or findings",
            allowed="without any before the sheet is drawn anew: their places are told in the "
            "mm of the outlines they were taken on",
            remedy="Edit the outline of a single panel instead; its readings stay where they are.",
        )


def can_redraw(car: Car) -> bool:
    """Whether the sheet may be drawn anew."""
    try:
        check_can_redraw(car)
    except InputError:
        return False
    return True


@transaction.atomic
def redraw_sheet(*, car: Car, panels: Drawn, tape: Mapping[str, Any], by: Any) -> None:
    """Replace every panel of a car on which nothing was read yet; the old ones stay in the log.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If anything was read or found on a panel.
    """
    check_may_write(by)
    take_turn(car)
    check_can_redraw(car)
    sheet = panels_sheet(panels)
    before = list(car.panels.values(*_PANEL))
    car.panels.all().delete()
    store_rows(car, "panels", sheet)
    car.heads = {**car.heads, "panels": list(sheet.columns)}
    car.save(update_fields=["heads"])
    write_entry(
        action="redraw sheet",
        by=by,
        car=car,
        before={"panels": before},
        after={"tape": dict(tape), "panels": [p.panel for p in panels]},
    )
