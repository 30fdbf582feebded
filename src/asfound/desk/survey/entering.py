"""Keeping a spot that was entered on a panel, once only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shapely import Point

from asfound.desk.survey.places import check_on_panel
from asfound.desk.survey.readings import next_spot
from asfound.desk.survey.upload import Match, check
from asfound.exchange.dialect import Written
from asfound.record.actions import keep_spot
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import Row
from asfound.record.models import Car

_SAME_PLACE_MM = 0.5
"""One more reading is sent with the very place of its spot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """What was kept, in words, and the name of its spot; no name where it was kept before."""

    said: str
    spot: str = ""


def enter_spot(*, car: Car, panel: str, by: Any, key: str = "", **typed: Any) -> Entered:
    """Keep the readings of a spot; a spot that was sent twice is kept once.

    Parameters
    ----------
    car : Car
    panel : str
    by : user
    key : str
        Made by the sender for this spot; the same key again changes nothing.
    **typed
        ``x_mm``, ``y_mm``, ``spot``, ``gauge``, ``taken_at``, the list ``thickness_um``, and
        ``more``: whether they go to the spot that stands at this very place already.

    Raises
    ------
    InputFaultsError
        If the readings break a rule of the car folder.
    """
    kept = keep_spot(car=car, rows=lambda: _checked(car, panel, by, typed), key=key, by=by)
    if kept is None:
        return Entered(said="These readings were kept already.")
    count, spot = len(kept), kept[0]["spot"]
    readings = f"{count}{' more' if typed.get('more') else ''} reading{'s' if count > 1 else ''}"
    return Entered(said=f"Spot {spot}: {readings} kept.", spot=spot)


def _checked(car: Car, panel: str, by: Any, typed: dict[str, Any]) -> list[Mapping[str, str]]:
    """Readings as rows of ``film.csv``, under the same rules as a folder's."""
    folder = folder_of(car)
    check_on_panel(folder, panel=panel, x_mm=typed["x_mm"], y_mm=typed["y_mm"])
    here = [row for row in folder.sheet("film") if row.text("panel") == panel]
    fixed = {
        "panel": panel,
        "spot": typed["spot"] or _named(here, typed),
        "x_mm": f"{typed['x_mm']:g}",
        "y_mm": f"{typed['y_mm']:g}",
        "gauge": typed["gauge"],
        "taken_at": typed["taken_at"],
        "by": by.get_username(),
    }
    head = (*fixed, "thickness_um")
    rows = tuple(
        (number, (*fixed.values(), f"{thickness:g}"))
        for number, thickness in enumerate(typed["thickness_um"], start=2)
    )
    places = {name: i for i, name in enumerate(head)}
    written = Written(
        separator=";",
        head=head,
        rows=rows,
        typed=frozenset((number, i) for number, _ in rows for i in places.values()),
    )
    checked = check(written, Match(places=places), car=folder, file="the spot")
    if checked.sheet is None:
        raise InputFaultsError(checked.faults)
    return [dict(row.cells) for row in checked.sheet]


def _named(rows: list[Row], typed: dict[str, Any]) -> str:
    """Spot that the readings go to: the one there already, or the next one counted."""
    if not typed.get("more"):
        return next_spot(row.text("spot") for row in rows)
    place = Point(typed["x_mm"], typed["y_mm"])
    there = [
        row.text("spot")
        for row in rows
        if place.distance(Point(row.number("x_mm"), row.number("y_mm"))) <= _SAME_PLACE_MM
    ]
    if not there:
        raise InputFaultsError((_no_spot(typed),))
    return there[-1]


def _no_spot(typed: dict[str, Any]) -> Fault:
    """One more reading whose spot the record never took, or took back."""
    return Fault(
        file="the spot",
        column="more",
        value=f"{typed['x_mm']:g}, {typed['y_mm']:g}",
        rule="no spot that counts stands at this place, so there is none to take one more reading",
        remedy="Send the spot's first readings again if they were refused, or tap a place.",
    )
