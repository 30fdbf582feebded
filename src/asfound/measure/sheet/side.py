"""The left side of a body whose wings are one with it."""

from __future__ import annotations

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from asfound.measure.sheet.curves import Point, flowing, largest, rounded, trail
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.stations import Stations
from asfound.measure.sheet.upper import rear_pillar_cell, upper_outline, windows
from asfound.measure.sheet.wheels import front_opening, outward, rear_opening

FAR = 1000.0


def side_panels(at: Stations) -> dict[str, Polygon]:
    """Outlines in the car's side view (x rearward, z up), by name without the side."""
    body = lower_body(at)
    cells = _cells(at)
    panels = {
        name: rounded(
            body & cell.buffer(-at.gap / 2, join_style="mitre"), radius=_radius(name, at), name=name
        )
        for name, cell in cells.items()
    }
    rest = body - shapely.union_all(list(cells.values())).buffer(at.gap / 2, join_style="mitre")
    soft, name = 0.5 * at.unit, rear_name(at, "rear wing")
    if not at.form.closed:
        return panels | {name: rounded(rest, radius=soft, name=name)}
    frame, pillar = frame_and_pillar(at, body)
    if at.form.load_bed:
        return panels | {"side frame": frame} | bed_cut(at, rest, pillar)
    near = shapely.union_all(list(panels.values())).buffer(at.gap)
    joined = shapely.union_all([rest, pillar]).buffer(2 * at.unit).buffer(-2 * at.unit)
    taken = near | frame.buffer(at.gap) | rear_opening(at)
    return panels | {"side frame": frame, name: rounded(joined - taken, radius=soft, name=name)}


def rear_name(at: Stations, usual: str) -> str:
    """The name of the panel behind the doors."""
    return "load side" if at.form is BodyForm.VAN else usual


def lower_body(at: Stations) -> Polygon:
    """The body below the waist with both wheel openings cut."""
    return largest(_silhouette(at) - front_opening(at) - rear_opening(at), "side")


def _silhouette(at: Stations) -> Polygon:
    top = flowing(_upper_line(at))
    nose_z, tail_z, end = top[0][1], top[-1][1], at.lengths.length
    low_f, low_r = at.lengths.sill + 3.0 * at.unit, at.lengths.sill + 5.5 * at.unit
    mid_f, mid_r = low_f + 0.52 * (nose_z - low_f), low_r + 0.62 * (tail_z - low_r)
    back = end - top[-1][0]
    foot_f, foot_r = 0.012 * end, end * (1 - at.lines.tail_lean)
    nose = trail(
        (foot_f, low_f),
        [
            (0.004 * end, low_f + 0.3 * (mid_f - low_f)),
            (0, mid_f - 0.3 * (mid_f - low_f)),
            (0, mid_f),
        ],
        [
            (0, mid_f + 0.7 * (nose_z - mid_f)),
            (0.35 * top[0][0], nose_z - 0.65 * top[0][0] * _slope(top[0], top[6])),
            top[0],
        ],
    )
    tail = trail(
        top[-1],
        [
            (end - 0.4 * back, tail_z + 0.6 * back * _slope(top[-6], top[-1])),
            (end, tail_z - 0.3 * (tail_z - mid_r)),
            (end, mid_r),
        ],
        [(end, low_r + 0.25 * (mid_r - low_r)), (foot_r, low_r)],
    )
    return Polygon([*nose, *top[1:], *tail[1:], *_underside(at)])


def _slope(a: Point, b: Point) -> float:
    return (b[1] - a[1]) / (b[0] - a[0])


def _underside(at: Stations) -> list[Point]:
    sill, lip = at.lengths.sill, at.lengths.sill + 0.6 * at.unit
    return [
        (at.hub_rear + outward(at, at.lengths.length - at.hub_rear), lip),
        (at.hub_rear - at.arch, sill),
        (at.hub_front + at.arch, sill),
        (at.hub_front - outward(at, at.hub_front), lip),
    ]


def _upper_line(at: Stations) -> list[Point]:
    line, waist, end = at.lines, at.waist, at.lengths.length
    last = max(at.door_end + 6 * at.unit, at.hub_rear)
    return [
        (0.03 * end, line.nose * waist),
        (at.hub_front, line.over_front * waist),
        (at.door_front, line.scuttle * waist),
        (0.55 * at.door_front + 0.45 * at.pillar, line.door * waist),
        (at.door_end, line.door_rear * waist),
        (last, line.haunch * waist),
        (end - (0.2 if at.form.upright_tail else 1.8) * at.unit, line.tail * waist),
    ]


def _cells(at: Stations) -> dict[str, Polygon]:
    """The ground of each panel ahead of the rear wing; what is left over is the rear wing."""
    unit = at.unit
    front = _shut_line(at, at.door_front)
    sill_end = at.hub_rear - at.arch - 2.4 * unit
    middle = shapely.box(at.door_front - 9 * unit, at.sill_top, at.pillar, FAR * unit)
    cells = {
        "front wing": Polygon([*front, (-FAR, FAR * unit), (-FAR, -FAR)]),
        "sill": shapely.box(at.door_front + 1.2 * unit, -FAR, sill_end, at.sill_top),
        "front door" if at.form.rear_doors else "door": middle,
    }
    if at.form.rear_doors:
        lip = rear_opening(at, margin=2.4 * unit)
        box = shapely.box(at.pillar, at.sill_top, at.door_end, FAR * unit)
        bend = 7 * unit
        cells["rear door"] = largest((box - lip).buffer(bend).buffer(-bend) & box, "rear door")
    ahead = cells["front wing"]
    return {n: c if n == "front wing" else largest(c - ahead, n) for n, c in cells.items()}


def _shut_line(at: Stations, x: float) -> list[Point]:
    """The line before the front door, from the ground up: leaning, then upright."""
    unit = at.unit
    return trail(
        (x + 1.2 * unit, -FAR),
        [(x + 1.2 * unit, at.sill_top)],
        [(x + 0.2 * unit, at.sill_top + 6 * unit), (x, at.sill_top + 12 * unit), (x, at.waist)],
        [(x, FAR * unit)],
    )


def _radius(name: str, at: Stations) -> float:
    return (1.5 if "door" in name else 0.5) * at.unit


def frame_and_pillar(at: Stations, body: Polygon) -> tuple[Polygon, BaseGeometry]:
    """Pillars and rail around the side glass, and the rear pillar, which joins the rear wing."""
    outer = upper_outline(at)
    shell = outer - shapely.union_all(windows(at, outer))
    cell = rear_pillar_cell(at)
    above = shell - body.buffer(at.gap / 2) - cell.buffer(at.gap)
    high = shapely.box(-FAR, at.waist - 1.5 * at.unit, FAR * at.unit, FAR * at.unit)
    return rounded(above & high, radius=0.25 * at.unit, name="side frame"), shell & cell


def bed_cut(at: Stations, rest: BaseGeometry, pillar: BaseGeometry) -> dict[str, Polygon]:
    """The cab's corner and the bed's side, apart by the width of a hand."""
    cut, gap, far = at.rear_foot, 1.2 * at.unit, FAR * at.unit
    cab = shapely.union_all([rest & shapely.box(0, -FAR, cut, far), pillar])
    cab = cab & shapely.box(at.pillar + at.gap / 2, -FAR, far, far)
    bed = rest & shapely.box(cut + gap, -FAR, far, far)
    return {
        "cab corner": rounded(cab, radius=0.4 * at.unit, name="cab corner"),
        "bed side": rounded(bed, radius=0.8 * at.unit, name="bed side"),
    }
