"""The panels at the nose and the tail, seen from the front and from the rear (y up)."""

from __future__ import annotations

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from asfound.measure.sheet.curves import Point, disc, rounded, trail
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.stations import Stations


def front_panels(at: Stations) -> dict[str, Polygon]:
    """What stands across the nose, seen from the front."""
    if at.separate_wings:
        return {"radiator shell": _radiator_shell(at)}
    return {"front valance": _front_valance(at)}


def rear_panels(at: Stations) -> dict[str, Polygon]:
    """What stands across the tail, seen from the rear."""
    if at.form is BodyForm.VAN:
        return _load_doors(at)
    if at.form is BodyForm.ESTATE:
        return {"tailgate": _tailgate(at)}
    name = "tailboard" if at.form.load_bed else "rear panel"
    return {name: _rear_panel(at)}


def _whole(half: list[Point]) -> Polygon:
    return Polygon([*half, *((-x, y) for x, y in reversed(half))])


def _front_valance(at: Stations) -> Polygon:
    half, top = 0.47 * at.lengths.width, at.lines.nose * at.waist
    low = at.lengths.sill + 3.0 * at.unit
    tall = top - low
    shell = trail(
        (0, top),
        [(0.5 * half, top), (0.80 * half, top - 0.02 * tall)],
        [(0.97 * half, top - 0.05 * tall), (half, top - 0.22 * tall), (half, low + 0.42 * tall)],
        [(half, low + 0.08 * tall), (0.84 * half, low)],
        [(0.4 * half, low - 0.04 * tall), (0, low - 0.04 * tall)],
    )
    mouth = _mouth(at, half, low, tall)
    return rounded(
        _whole(shell) - mouth, radius=0.7 * at.unit, inner=1.2 * at.unit, name="front valance"
    )


def _mouth(at: Stations, half: float, low: float, tall: float) -> BaseGeometry:
    """The opening for grille and lamps, open to the bonnet's edge so that it is no hole."""
    up = 2 * tall
    if not at.form.closed:
        oval = trail(
            (0, low + 0.36 * tall),
            [(0.50 * half, low + 0.36 * tall), (0.56 * half, low + 0.62 * tall)],
            [(0.56 * half, low + 0.9 * tall), (0.30 * half, low + tall)],
            [(0.24 * half, low + up)],
            [(0, low + up)],
        )
        return _whole(oval)
    eye, lamp_x, lamp_z = 0.23 * tall, 0.64 * half, low + 0.64 * tall
    grille = shapely.box(-lamp_x, low + 0.46 * tall, lamp_x, low + up)
    lamps = [disc(x=side * lamp_x, z=lamp_z, radius=eye) for side in (-1, 1)]
    above = shapely.box(-lamp_x - eye, lamp_z, lamp_x + eye, low + up)
    return shapely.union_all([grille, above, *lamps])


def _radiator_shell(at: Stations) -> Polygon:
    half, top = 0.5 * at.lengths.bonnet_width * 0.62, at.lines.nose * at.waist
    low = at.lengths.sill + 0.6 * at.lengths.wheel * 0.5
    tall = top - low
    shell = trail(
        (0, top + 0.03 * tall),
        [(0.7 * half, top + 0.02 * tall), (half, top - 0.05 * tall), (half, top - 0.2 * tall)],
        [(half, low + 0.4 * tall), (0.8 * half, low)],
        [(0, low)],
    )
    rim = 0.17 * half
    core = trail(
        (0, top - 0.16 * tall),
        [
            (0.6 * half, top - 0.16 * tall),
            (half - rim, top - 0.2 * tall),
            (half - rim, top - 0.3 * tall),
        ],
        [(half - rim, low + 0.4 * tall), (0.8 * half - rim, low - tall)],
        [(0, low - tall)],
    )
    return rounded(_whole(shell) - _whole(core), radius=0.3 * at.unit, name="radiator shell")


def _tail_half(at: Stations) -> float:
    return (0.33 if at.separate_wings else 0.46) * at.lengths.width


def _rear_panel(at: Stations) -> Polygon:
    half, top = _tail_half(at), at.tail_z
    low = at.lengths.sill + 5.5 * at.unit
    tall = top - low
    if at.form.load_bed:
        box = shapely.box(-at.bed_half, low, at.bed_half, top)
        return rounded(box, radius=0.8 * at.unit, name="tailboard")
    points = trail(
        (0, top),
        [(0.7 * half, top), (0.86 * half, top - 0.04 * tall)],
        [(half, top - 0.1 * tall), (half, low + 0.5 * tall)],
        [(half, low + 0.06 * tall), (0.88 * half, low)],
        [(0, low - 0.03 * tall)],
    )
    plate = shapely.box(-0.2 * half, low - tall, 0.2 * half, low + 0.16 * tall)
    return rounded(_whole(points) - plate, radius=0.9 * at.unit, name="rear panel")


def _tailgate(at: Stations) -> Polygon:
    """An estate's tailgate: a U around the glass, which is open at the top."""
    half, low = 0.40 * at.lengths.width, at.lengths.sill + 7 * at.unit
    post, top = 2.6 * at.unit, at.gutter - at.rail
    lean = 0.88
    shell = trail(
        (0, top),
        [(lean * half, top)],
        [(half, at.waist)],
        [(half, low + 4 * at.unit)],
        [(half, low), (half - 4 * at.unit, low)],
        [(0, low)],
    )
    glass = trail(
        (0, at.waist),
        [(half - post, at.waist)],
        [(lean * half - post, 2 * top - at.waist)],
        [(0, 2 * top - at.waist)],
    )
    return rounded(
        _whole(shell) - _whole(glass), radius=0.9 * at.unit, inner=1.6 * at.unit, name="tailgate"
    )


def _load_doors(at: Stations) -> dict[str, Polygon]:
    half = (0.36 if at.separate_wings else 0.41) * at.lengths.width
    low, top = at.lengths.sill + 7 * at.unit, at.gutter - at.rail
    whole = trail(
        (0, top),
        [(0.84 * half, top)],
        [(half, top), (half, top - 6 * at.unit)],
        [(half, low)],
        [(0, low)],
    )
    doors = {"left load door": -half, "right load door": half}
    shape = _whole(whole)
    return {
        name: rounded(
            shape & shapely.box(min(0, x) + at.gap / 2, low, max(0, x) - at.gap / 2, top),
            radius=1.4 * at.unit,
            name=name,
        )
        for name, x in doors.items()
    }
