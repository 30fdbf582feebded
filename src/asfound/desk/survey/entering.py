"""Keeping a spot that was entered on a panel, once only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils import timezone

from asfound.desk.survey.readings import next_spot
from asfound.desk.survey.upload import check
from asfound.exchange.dialect import Written
from asfound.record.actions import keep_spot
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
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
