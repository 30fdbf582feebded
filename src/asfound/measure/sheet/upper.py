"""What stands above the waist at the side of a closed body: pillars and rail around the glass."""

from __future__ import annotations

from itertools import pairwise

from shapely import Polygon

from asfound.measure.sheet.curves import largest, rounded, trail
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.stations import Stations


def upper_outline(at: Stations) -> Polygon:
    """Everything above the waist, glass included; it reaches down into the body below."""
    low, unit = at.waist - 6 * at.unit, at.unit
    foot, top, back, heel = at.screen_foot, at.screen_top, at.rear_top, at.rear_foot
    brow, round_off = at.gutter - 2.2 * unit, min(14 * unit, 0.3 * (back - top))
    soft = 2.6 if at.form is BodyForm.COUPE else 1.0
    lead = (top - foot) / (at.gutter - at.waist)
    fall = (heel - back) / (at.gutter - at.waist)
    points = trail(
        (foot - 6 * unit * lead, low),
        [(top - 5 * unit * lead, at.gutter - 5 * unit)],
        [(top, at.gutter), (top + 4 * unit, at.gutter)]
        if at.separate_wings
        else [
            (top - 1.5 * unit * lead, at.gutter - 1.5 * unit),
            (top + 2 * unit, at.gutter - 0.6 * unit),
            (top + round_off, at.gutter),
        ],
        [(back - soft * round_off, at.gutter)],
        [
            (back - 0.25 * round_off, at.gutter),
            (back, brow),
            (back + 5 * unit * fall, at.gutter - 6 * unit),
        ],
        [
            (heel - 5 * unit * fall, at.waist + 4 * unit),
            (heel - unit * fall, at.waist + 0.6 * unit),
            (heel + 2.0 * unit * fall, at.waist - unit),
        ],
        [(heel + 2.0 * unit * fall, low)],
    )
    return largest(Polygon(points).buffer(0), "side frame")


def windows(at: Stations, outer: Polygon) -> list[Polygon]:
    """The openings for glass, each open to the waist so that no panel has a hole."""
    inset = outer.buffer(-at.rail, join_style="mitre")
    floor = at.waist - 5 * at.unit
    openings = []
    for x0, x1 in _bays(at):
        bay = Polygon(
            [
                (x0, floor),
                (x0, at.gutter),
                (x1 - _lean(at, x1), at.gutter),
                (x1, at.waist),
                (x1, floor),
            ]
        )
        openings.append(rounded(inset & bay, radius=1.6 * at.unit, name="side window"))
    return openings


def _lean(at: Stations, x: float) -> float:
    """How far the rear edge of the last window leans forward at the gutter."""
    last = max(x1 for _, x1 in _bays(at))
    if x < last or at.form in {BodyForm.VAN, BodyForm.PICK_UP}:
        return 0.0
    return min(0.45 * at.lines.rear_rake, 0.35) * (at.gutter - at.waist)


def _bays(at: Stations) -> list[tuple[float, float]]:
    post, start = 1.5 * at.unit, at.screen_foot - 20 * at.unit
    end = at.rear_foot - _last_pillar(at)
    if at.form is BodyForm.SALOON:
        end = min(end, at.door_end - 1.2 * at.unit)
    cuts = {
        BodyForm.SALOON: [at.pillar],
        BodyForm.COUPE: [at.pillar],
        BodyForm.ESTATE: [at.pillar, at.door_end],
    }.get(at.form, [])
    if at.form in {BodyForm.VAN, BodyForm.PICK_UP}:
        end = at.pillar
    edges = [start, *cuts, end]
    return [
        (a + (post if i else 0), b - (post if b != end else 0))
        for i, (a, b) in enumerate(pairwise(edges))
        if b - a > 8 * at.unit
    ]


def _last_pillar(at: Stations) -> float:
    rise = at.gutter - at.waist
    wide = {BodyForm.COUPE: 0.62, BodyForm.ESTATE: 0.36}.get(at.form, 0.5)
    return wide * rise


def rear_pillar_cell(at: Stations) -> Polygon:
    """The ground that belongs to the rear wing above the waist: behind the last window."""
    edge = max(x1 for _, x1 in _bays(at)) - 0.1 * at.unit
    low, far, rise = at.waist - 30 * at.unit, 2 * at.lengths.length, at.gutter - at.waist
    lean = _lean(at, edge + at.unit)
    return Polygon(
        [
            (edge, low),
            (edge, at.waist),
            (edge - 2 * lean, at.waist + 2 * rise),
            (far, at.waist + 2 * rise),
            (far, low),
        ]
    )
