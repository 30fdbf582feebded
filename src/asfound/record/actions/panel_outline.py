"""The outline of one panel: corrected, replaced by a trace, or added."""

from __future__ import annotations

import math
from typing import Any

import shapely
from django.db import transaction
from django.db.models import Max
from shapely import Polygon
from shapely.validation import explain_validity

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, Panel
from asfound.record.reads import panels_observed

_HEAD = ("panel", "section", "substrate", "outline_wkt", "view")
_FARTHEST_MM = 20_000.0
_MOST_CORNERS = 4_000
_LEAST_MM2 = 1.0


@transaction.atomic
def move_outline(*, panel: Panel, outline_wkt: str, was_wkt: str, reason: str, by: Any) -> Panel:
    """Panel with a corrected outline; readings stay at their places in the panel's own mm.

    Parameters
    ----------
    panel : Panel
    outline_wkt : str
        The outline as it should be, in the same mm as before.
    was_wkt : str
        The outline that the person saw and corrected.
    reason : str
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the outline is not lawful, no reason is given, or somebody else was first.
    """
    check_may_write(by)
    take_turn(panel.car)
    panel.refresh_from_db(fields=["outline_wkt"])
    if panel.outline_wkt != was_wkt:
        raise InputError(
            field="outline",
            got="corrected by somebody else meanwhile",
            allowed="the one that stood on your page",
            remedy="Open the panel again and correct what stands there now.",
        )
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    return _write(panel, lawful_outline(outline_wkt), action="move outline", reason=reason, by=by)


@transaction.atomic
def replace_outline(*, panel: Panel, outline_wkt: str, reason: str, by: Any) -> Panel:
    """Panel with an outline drawn from other ground, such as a photograph.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the outline is not lawful, or readings were taken on the old one.
    """
    check_may_write(by)
    take_turn(panel.car)
    if panel.panel in panels_observed(panel.car):
        raise InputError(
            field="panel",
            got=panel.panel,
            allowed="without readings: theirs are places in the mm of the outline that is there",
            remedy="Correct that outline corner by corner, or trace under a name of its own.",
        )
    return _write(
        panel, lawful_outline(outline_wkt), action="replace outline", reason=reason, by=by
    )


@transaction.atomic
def add_panel(
    *, car: Car, panel: str, section: str, substrate: str, view: str, outline_wkt: str, by: Any
) -> Panel:
    """Panel more on the car's sheet; it is laid out beside the others by its view.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the name is empty or taken, the outline is not lawful, or the car's readings stand on
        panels that nobody drew.
    """
    check_may_write(by)
    take_turn(car)
    name = panel.strip()
    if not name or car.panels.filter(panel=name).exists():
        raise InputError(field="panel", got=name, allowed="a name that no panel of the car has")
    _check_all_drawn(car, name)
    last = car.panels.aggregate(last=Max("position"))["last"]
    made = Panel.objects.create(
        car=car,
        position=0 if last is None else last + 1,
        panel=name,
        section=section,
        substrate=substrate,
        view=view,
        outline_wkt=lawful_outline(outline_wkt),
    )
    head = car.heads.get("panels", [])
    car.heads = {**car.heads, "panels": [*head, *(c for c in _HEAD if c not in head)]}
    car.save(update_fields=["heads"])
    write_entry(action="add panel", by=by, car=car, after=_told(made))
    return made


def lawful_outline(text: str) -> str:
    """Outline as the record keeps it: one simple polygon in mm, to a tenth.

    Raises
    ------
    InputError
        If it is no polygon, crosses itself, has holes, or reaches beyond any car.
    """
    try:
        shape = shapely.from_wkt(text)
    except shapely.errors.GEOSException:
        shape = None
    if not isinstance(shape, Polygon) or shape.is_empty or shape.interiors:
        raise _unlawful(text[:60], "one closed polygon in mm, without holes")
    if shapely.get_num_coordinates(shape) > _MOST_CORNERS:
        raise _unlawful(f"{shapely.get_num_coordinates(shape)} corners", f"{_MOST_CORNERS} at most")
    if not all(math.isfinite(v) and abs(v) <= _FARTHEST_MM for v in shape.bounds):
        raise _unlawful(text[:60], f"within {_FARTHEST_MM / 1000:.0f} m of the panel's own origin")
    drawn = shapely.to_wkt(shapely.force_2d(shape), rounding_precision=1)
    kept = shapely.from_wkt(drawn)
    if not kept.is_valid:
        raise _unlawful(explain_validity(kept), "an edge that does not cross itself")
    if kept.area < _LEAST_MM2:
        raise _unlawful(f"{kept.area:.1g} mm² large", "an edge around some area")
    return drawn


def _unlawful(got: str, allowed: str) -> InputError:
    return InputError(
        field="outline",
        got=got,
        allowed=allowed,
        remedy="Take the last step back and move the corner another way.",
    )


def _check_all_drawn(car: Car, name: str) -> None:
    bare = panels_observed(car) - {name} if "panels" not in car.heads else set()
    if bare:
        raise InputError(
            field="panels",
            got=f"readings on {', '.join(sorted(bare)[:4])}, which nobody drew",
            allowed="drawn for all readings or for none",
            remedy="Load the car again with a table of its panels.",
        )


def _write(panel: Panel, outline_wkt: str, *, action: str, reason: str, by: Any) -> Panel:
    before = _told(panel)
    panel.outline_wkt = outline_wkt
    panel.save(update_fields=["outline_wkt"])
    write_entry(
        action=action,
        by=by,
        car=panel.car,
        before=before,
        after={**_told(panel), "reason": reason.strip()},
    )
    return panel


def _told(panel: Panel) -> dict[str, Any]:
    return {"panel": panel.panel, "outline_wkt": panel.outline_wkt}
