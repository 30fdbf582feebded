"""The panels of the invented car, each in its own mm, laid out as one unfolded sheet.

The sheet shows the car from above with its nose to the left; the sides, the front and the rear
are folded out around it. Side and plan are struck in the car's own mm: x from the nose
rearwards; in the side view y is minus the height above ground, in the plan minus the distance
to the right of the centre line.
"""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.affinity import scale, translate

from asfound.demo.curve import outline
from asfound.demo.written import Rows

_LEFT_SIDE = {
    "front wing": "M 150 -610 C 165 -770 330 -872 560 -886 C 860 -902 1180 -868 1440 -802 "
    "C 1447 -650 1447 -480 1440 -328 L 1185 -325 W 800 -325 385 L 300 -328 "
    "C 190 -340 146 -430 150 -610",
    "door": "M 1458 -797 C 1640 -752 1800 -704 1960 -704 C 2140 -704 2280 -758 2425 -800 "
    "C 2436 -640 2420 -470 2330 -342 C 2000 -330 1700 -328 1470 -328 "
    "C 1462 -480 1462 -650 1458 -797",
    "rear quarter": "M 2441 -804 C 2620 -852 2850 -880 3080 -880 C 3180 -880 3260 -872 3332 -854 "
    "L 3338 -806 C 3170 -810 2955 -790 2795 -756 C 2620 -716 2530 -610 2434 -505 "
    "C 2446 -600 2446 -700 2441 -804",
    "rear wing": "M 2348 -338 C 2440 -478 2560 -690 2800 -745 C 2960 -780 3180 -800 3340 -795 "
    "C 3720 -780 4080 -700 4300 -478 C 4318 -420 4312 -370 4290 -330 L 3612 -325 "
    "W 3262 -325 350 L 2360 -328",
    "sill": "M 1215 -312 L 2870 -312 C 2880 -262 2858 -222 2815 -215 L 1270 -215 "
    "C 1230 -220 1206 -264 1215 -312",
}
_PLAN = {
    "bonnet": "M 165 -250 C 138 -120 138 120 165 250 C 420 362 900 482 1420 562 "
    "C 1450 200 1450 -200 1420 -562 C 900 -482 420 -362 165 -250",
    "scuttle": "M 1436 -566 C 1466 -200 1466 200 1436 566 C 1540 606 1660 642 1790 656 "
    "C 1732 350 1715 150 1715 0 C 1715 -150 1732 -350 1790 -656 "
    "C 1660 -642 1540 -606 1436 -566",
    "tonneau panel": "M 2900 -656 C 3060 -662 3240 -652 3400 -622 C 3432 -200 3432 200 3400 622 "
    "C 3240 652 3060 662 2900 656 C 2960 600 3120 560 3150 400 C 3170 150 3170 -150 3150 -400 "
    "C 3120 -560 2960 -600 2900 -656",
    "boot lid": "M 3418 -566 C 3450 -200 3450 200 3418 566 C 3760 548 4080 474 4240 330 "
    "C 4300 150 4300 -150 4240 -330 C 4080 -474 3760 -548 3418 -566",
}
_FRONT = {
    "nose panel": "M -262 -332 C -120 -356 120 -356 262 -332 C 420 -290 530 -190 566 0 L 330 0 "
    "C 330 -150 200 -228 0 -228 C -200 -228 -330 -150 -330 0 L -566 0 "
    "C -530 -190 -420 -290 -262 -332",
    "front valance": "M -610 0 L -336 0 C -300 70 -150 96 0 96 C 150 96 300 70 336 0 L 610 0 "
    "C 618 90 566 190 424 214 C 200 234 -200 234 -424 214 C -566 190 -618 90 -610 0",
}
_REAR = {
    "rear valance": "M -640 0 C -300 -44 300 -44 640 0 C 644 120 606 222 520 240 L 214 240 "
    "C 200 190 180 176 150 176 L -150 176 C -180 176 -200 190 -214 240 L -520 240 "
    "C -606 222 -644 120 -640 0",
}
_ALUMINIUM = {"bonnet", "boot lid", "left door", "right door"}
_NOMINAL_MM = {"steel": "0.9", "aluminium": "1.2"}

_SHEET_X, _SHEET_Y = 760.0, 1_600.0
"""Where the point of the nose on the centre line lies on the sheet [mm]."""
_SIDE_Y = 780.0
"""From the centre line to the highest point of the sides, folded out [mm]."""
_TOP_OF_SIDES = -890.0
_FRONT_X, _REAR_X, _FOLD_GAP = 105.0, 4_350.0, 70.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A panel in its own mm, its section, its metal and its place on the sheet."""

    panel: str
    section: str
    substrate: str
    outline: Polygon
    placement: str


def drawn_panels() -> tuple[Drawn, ...]:
    """Panels of the car, front to rear, left before right."""
    return (
        *_front_panels(),
        *(_drawn(name, "top", outline(path), 0, _SHEET_Y) for name, path in _PLAN.items()),
        *(_left(name, outline(path)) for name, path in _LEFT_SIDE.items()),
        *(_right(name, outline(path)) for name, path in _LEFT_SIDE.items()),
        *_rear_panels(),
    )


def panel_rows(panels: tuple[Drawn, ...]) -> Rows:
    """Rows of ``panels.csv``."""
    return [
        {
            "panel": drawn.panel,
            "section": drawn.section,
            "substrate": drawn.substrate,
            "outline_wkt": shapely.to_wkt(drawn.outline, rounding_precision=1, trim=True),
            "view": drawn.section,
            "nominal_mm": _NOMINAL_MM[drawn.substrate],
            "placement": drawn.placement,
        }
        for drawn in panels
    ]


def _left(name: str, struck: Polygon) -> Drawn:
    return _drawn(f"left {name}", "left", struck, 0, _SHEET_Y + _SIDE_Y - _TOP_OF_SIDES)


def _right(name: str, struck: Polygon) -> Drawn:
    """The same outline as seen from the right: nose to the right, then turned upside down."""
    _, top, rear, _ = struck.bounds
    dy = _SHEET_Y - _SIDE_Y + _TOP_OF_SIDES - top
    seen = scale(struck, xfact=-1, origin=(0, 0))
    return _placed(f"right {name}", "right", seen, rear + _SHEET_X, dy, 180)


def _drawn(name: str, section: str, struck: Polygon, dx: float, dy: float) -> Drawn:
    left, top, *_ = struck.bounds
    return _placed(name, section, struck, left + _SHEET_X + dx, top + dy, 0)


def _front_panels() -> list[Drawn]:
    """Folded out to the left of the nose, their upper edge towards it."""
    out, dx = [], _SHEET_X + _FRONT_X
    for name, path in _FRONT.items():
        struck = outline(path)
        left, top, _, bottom = struck.bounds
        out.append(_placed(name, "front", struck, dx, _SHEET_Y + left, 90))
        dx -= bottom - top + _FOLD_GAP
    return out


def _rear_panels() -> list[Drawn]:
    """Folded out to the right of the tail, their upper edge towards it."""
    out, dx = [], _SHEET_X + _REAR_X
    for name, path in _REAR.items():
        struck = outline(path)
        left, top, _, bottom = struck.bounds
        out.append(_placed(name, "rear", struck, dx, _SHEET_Y - left, -90))
        dx += bottom - top + _FOLD_GAP
    return out


def _placed(
    name: str, section: str, struck: Polygon, dx: float, dy: float, angle_deg: int
) -> Drawn:
    left, top, *_ = struck.bounds
    own = shapely.set_precision(translate(struck, -left, -top), 0.1)
    return Drawn(
        panel=name,
        section=section,
        substrate="aluminium" if name in _ALUMINIUM else "steel",
        outline=own,
        placement=f"{dx:.0f} {dy:.0f} {angle_deg}",
    )
