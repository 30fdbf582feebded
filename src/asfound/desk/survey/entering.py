"""Keeping a spot that was entered on a panel, once only."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.cache import cache
from django.utils import timezone

from asfound.base import AsfoundError
from asfound.desk.survey.readings import next_spot
from asfound.desk.survey.upload import check
from asfound.exchange.dialect import Written
from asfound.record.actions import import_film_rows
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
from asfound.record.folder import Sheet
from asfound.record.models import Car

_REMEMBERED_S = 30 * 24 * 3600
"""A phone may be without a network for days and then send again what had arrived."""
_BUSY_S = 60
_BUSY, _KEPT = "busy", "kept"


class StillBusyError(AsfoundError):
    """The same spot is being kept at this moment; whether it will be is not known yet."""


def keep_spot(*, car: Car, panel: str, by: Any, key: str = "", **typed: Any) -> str:
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
    StillBusyError
        If the same spot arrived a moment ago and is not written yet.
    """
    remembered = f"spot-entered:{by.pk}:{car.pk}:{key or uuid.uuid4().hex}"
    if not cache.add(remembered, _BUSY, _BUSY_S):
        if cache.get(remembered) == _KEPT:
            return "These readings were kept already."
        raise StillBusyError("These readings are being kept; look again in a moment.")
    try:
        sheet = _checked(car, panel, by, typed)
        import_film_rows(car=car, rows=[dict(row.cells) for row in sheet], by=by)
    except BaseException:
        cache.delete(remembered)
        raise
    cache.set(remembered, _KEPT, _REMEMBERED_S)
    spot = next(iter(sheet)).text("spot")
    count = len(sheet)
    return f"Spot {spot}: {count} reading{'s' if count > 1 else ''} kept. Tap the next place."


def _checked(car: Car, panel: str, by: Any, typed: dict[str, Any]) -> Sheet:
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
    return checked.sheet
