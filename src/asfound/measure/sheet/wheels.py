"""The openings that the wheels stand in."""

from __future__ import annotations

from shapely import Polygon

from asfound.measure.sheet.curves import arch
from asfound.measure.sheet.stations import Stations


def front_opening(at: Stations, *, margin: float = 0.0) -> Polygon:
    """The opening over the front wheel, wider by a margin in mm."""
    return arch(
        x=at.hub_front,
        z=at.lengths.wheel / 2,
        ahead=outward(at, at.hub_front) + margin,
        behind=at.arch + margin,
        rise=min(at.arch, _headroom(at, at.lines.over_front)) + margin,
    )


def rear_opening(at: Stations, *, margin: float = 0.0) -> Polygon:
    """The opening over the rear wheel, wider by a margin in mm."""
    return arch(
        x=at.hub_rear,
        z=at.lengths.wheel / 2,
        ahead=at.arch + margin,
        behind=outward(at, at.lengths.length - at.hub_rear) + margin,
        rise=min(at.lines.arch_flat * at.arch, _headroom(at, at.lines.haunch)) + margin,
    )


def outward(at: Stations, overhang: float) -> float:
    """Width of an opening towards the car's end, where a short overhang must keep some metal."""
    return min(at.arch, max(overhang - 3 * at.unit, 0.4 * overhang))


def _headroom(at: Stations, line: float) -> float:
    """How high an opening may rise above the hub and leave metal under the wing's upper line."""
    if at.separate_wings:
        return at.arch
    return line * at.waist - at.lengths.wheel / 2 - 4 * at.unit
