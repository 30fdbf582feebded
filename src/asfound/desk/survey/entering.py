"""Keeping a spot that was entered on a panel, once only."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache
from django.utils import timezone

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
    """
    remembered = f"spot-entered:{by.pk}:{car.pk}:{key}"
    if key and not cache.add(remembered, True, _REMEMBERED_S):
        return "These readings were kept already."
    try:
        sheet = _checked(car, panel, by, typed)
        import_film_rows(car=car, rows=[dict(row.cells) for row in sheet], by=by)
    except BaseException:
        cache.delete(remembered)
        raise
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
