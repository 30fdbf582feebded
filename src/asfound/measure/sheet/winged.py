"""The left side of a body with separate wings and a running board."""

from __future__ import annotations

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from asfound.measure.sheet.curves import Point, flowing, largest, rounded, trail
from asfound.measure.sheet.side import FAR, bed_cut, frame_and_pillar, rear_name
from asfound.measure.sheet.stations import Stations
from asfound.measure.sheet.wheels import front_opening, rear_opening


def winged_side_panels(at: Stations) -> dict[str, Polygon]:
    """Outlines in the car's side view (x rearward, z up), by name without the side.

    Notes
    -----
    What a wing hides of the body behind it is left out: the outline is what the gauge can reach.
    """
    low = {"front wing": front_wing(at), "running board": _board(at), "rear wing": rear_wing(at)}
    hidden = shapely.union_all([*low.values(), *_openings(at)]).buffer(at.gap)
    body = largest(_silhouette(at), "side") - hidden
    cells = _cells(at)
    panels = {
        name: rounded(
            body & cell.buffer(-at.gap / 2, join_style="mitre"), radius=_radius(name, at), name=name
        )
        for name, cell in cells.items()
    }
    rest = body - shapely.union_all(list(cells.values())).buffer(at.gap / 2, join_style="mitre")
    return low | panels | _rear(at, rest, [hidden, *(p.buffer(at.gap) for p in panels.values())])


def _rear(at: Stations, rest: BaseGeometry, taken: list[BaseGeometry]) -> dict[str, Polygon]:
    soft, name = 0.6 * at.unit, rear_name(at, "rear quarter")
    if not at.form.closed:
        return {name: rounded(rest, radius=soft, name=name)}
    frame, pillar = frame_and_pillar(at, largest(_silhouette(at), "side"))
    if at.form.load_bed:
        return {"side frame": frame} | bed_cut(at, rest, pillar)
    whole = shapely.union_all([rest, pillar]) - shapely.union_all(taken)
    return {"side frame": frame, name: rounded(whole, radius=soft, name=name)}


def front_wing(at: Stations) -> Polygon:
    """The front wing: over the wheel and down to the running board in one sweep."""
    hub, z, opening, unit = at.hub_front, at.lengths.wheel / 2, at.arch, at.unit
    crown, foot = _crown(at, 1.0), at.door_front - 3 * unit
    top = at.lengths.sill + 2.2 * unit
    points = trail(
        (0.5 * unit, 0.62 * z),
        [(0, 0.70 * z), (0, 0.95 * z)],
        [(0, z + 0.62 * opening), (max(hub - 0.78 * opening, 0), crown), (hub, crown)],
        [
            (hub + 0.80 * opening, crown),
            (hub + 1.02 * opening, top + 0.5 * opening),
            (hub + 1.22 * opening, top + 0.22 * opening),
        ],
        [(hub + 1.30 * opening, top + 0.05 * opening), (foot - 2 * unit, top), (foot, top)],
        [(foot, at.lengths.sill)],
        [(hub + opening, at.lengths.sill)],
        [(hub, 0.4 * z)],
        [(max(hub - opening, 0.6 * unit), 0.62 * z)],
    )
    return _cut(points, front_opening(at), at, "front wing")


def rear_wing(at: Stations) -> Polygon:
    """The rear wing: up from the running board, over the wheel, and down to the tail."""
    hub, z, opening, unit = at.hub_rear, at.lengths.wheel / 2, at.arch, at.unit
    crown, start, end = _crown(at, at.lines.arch_flat), _board_end(at), at.lengths.length
    top = at.lengths.sill + 2.2 * unit
    points = trail(
        (start, at.lengths.sill),
        [(start, top)],
        [(hub - 1.22 * opening, top), (hub - 1.22 * opening, top + 0.35 * opening)],
        [(hub - 1.16 * opening, z + 0.75 * opening), (hub - 0.7 * opening, crown), (hub, crown)],
        [
            (min(hub + 0.72 * opening, end), crown),
            (end - 0.1 * unit, z + 0.75 * opening),
            (end, 0.80 * z),
        ],
        [(end, 0.66 * z), (end - 1.2 * unit, 0.62 * z)],
        [(min(hub + opening, end - 1.2 * unit), 0.62 * z)],
        [(hub, 0.4 * z)],
        [(hub - opening, at.lengths.sill)],
    )
    return _cut(points, rear_opening(at), at, "rear wing")


def _cut(points: list[Point], opening: Polygon, at: Stations, name: str) -> Polygon:
    return rounded(Polygon(points).buffer(0) - opening, radius=0.35 * at.unit, name=name)


def _crown(at: Stations, flat: float) -> float:
    return at.lengths.wheel / 2 + at.arch * flat + 2.8 * at.unit


def _board_end(at: Stations) -> float:
    return at.hub_rear - 1.22 * at.arch - 3 * at.unit


def _board(at: Stations) -> Polygon:
    sill = at.lengths.sill
    box = shapely.box(
        at.door_front - 3 * at.unit + at.gap, sill, _board_end(at) - at.gap, sill + 2.2 * at.unit
    )
    return rounded(box, radius=0.5 * at.unit, name="running board")


def _openings(at: Stations) -> list[Polygon]:
    z = at.lengths.wheel / 2
    return [
        front_opening(at),
        rear_opening(at),
        shapely.box(-FAR, -FAR, at.hub_front, z + 0.5 * at.arch),
    ]


def _silhouette(at: Stations) -> Polygon:
    line, waist, unit = at.lines, at.waist, at.unit
    floor, end = at.lengths.sill + 2.4 * unit, at.boot_rear + 0.6 * unit
    top = flowing(
        [
            (at.bonnet_front + 0.6 * unit, line.nose * waist),
            (0.5 * (at.bonnet_front + at.bonnet_rear), line.over_front * waist),
            (at.door_front, line.scuttle * waist),
            (0.5 * (at.door_front + at.pillar), line.door * waist),
            (at.door_end, line.door_rear * waist),
            (min(max(at.door_end + 6 * unit, at.boot_front), end - 9 * unit), line.haunch * waist),
            (end - (0.4 if at.form.upright_tail else 6) * unit, line.tail * waist),
        ]
    )
    tall = line.tail * waist - floor
    (x0, z0), (x1, z1) = top[-2:]
    lead = 0.45 * (end - x1)
    tail = trail(
        top[-1],
        [
            (x1 + lead, z1 + lead * (z1 - z0) / (x1 - x0)),
            (end, z1 - 0.2 * tall),
            (end, floor + 0.4 * tall),
        ],
        [(end, floor), (end - 3.0 * unit, floor)],
    )
    nose = trail(
        (at.bonnet_front + 0.4 * unit, floor), [(at.bonnet_front, line.nose * waist - 2 * unit)]
    )
    return Polygon([*nose, *top, *tail[1:]])


def _cells(at: Stations) -> dict[str, Polygon]:
    high, far = FAR * at.unit, FAR
    bounds = [-far, at.bonnet_rear + at.gap / 2, at.door_front, at.pillar, at.door_end]
    names = ["bonnet side", "scuttle side", "door"]
    if at.form.rear_doors:
        names = ["bonnet side", "scuttle side", "front door", "rear door"]
    return {
        name: shapely.box(x0, -far, x1, high)
        for name, x0, x1 in zip(names, bounds, bounds[1:], strict=False)
    }


def _radius(name: str, at: Stations) -> float:
    return (2.0 if "door" in name else 0.4) * at.unit
