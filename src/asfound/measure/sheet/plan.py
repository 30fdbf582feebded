"""The panels seen from above: bonnet, scuttle, roof or tonneau, boot lid."""

from __future__ import annotations

from shapely import Polygon, affinity

from asfound.measure.sheet.curves import Point, rounded, trail
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.stations import Stations


def plan_panels(at: Stations) -> dict[str, Polygon]:
    """Outlines seen from above: x rearward, y across with the middle of the car at 0."""
    panels = {"bonnet": _bonnet(at), "scuttle": _scuttle(at)}
    if at.form.closed:
        panels["roof"] = _roof(at)
    else:
        panels["tonneau panel"] = _tonneau(at)
    if at.form.boot_lid:
        panels["boot lid"] = _boot_lid(at)
    if at.form.load_bed:
        panels["bed floor"] = _bed_floor(at)
    return panels


def _both_halves(half: list[Point]) -> Polygon:
    """A symmetric outline from the line of its half with y ≥ 0."""
    return Polygon([*half, *((x, -y) for x, y in reversed(half))])


def _fitted(shape: Polygon, x0: float, x1: float) -> Polygon:
    """The shape moved and stretched along the car to end exactly at two stations."""
    low, _, high, _ = shape.bounds
    stretched = affinity.scale(shape, xfact=(x1 - x0) / (high - low), origin=(low, 0))
    return affinity.translate(stretched, x0 - low)


def _four_sided(  # each edge of the four is one number
    *,
    x0: float,
    x1: float,
    front: float,
    rear: float,
    bow_front: float,
    bow_rear: float,
    bulge: float,
    radius: float,
    name: str,
) -> Polygon:
    """A crowned panel: half widths at both ends, bowed ends, and sides that swell by ``bulge``."""
    mid, half = (x0 + x1) / 2, (front + rear) / 2 + bulge
    points = trail(
        (x0 - bow_front, 0),
        [(x0 - bow_front, 0.55 * front), (x0, front)],
        [(mid, 2 * half - (front + rear) / 2), (x1, rear)],
        [(x1 + bow_rear, 0.55 * rear), (x1 + bow_rear, 0)],
    )
    return _fitted(rounded(_both_halves(points), radius=radius, name=name), x0, x1)


def _bonnet(at: Stations) -> Polygon:
    rear = at.lengths.bonnet_width / 2
    front, bow = (0.62, 0.3) if at.separate_wings else (0.88, 3.0)
    return _four_sided(
        x0=at.bonnet_front,
        x1=at.bonnet_rear,
        front=front * rear,
        rear=rear,
        bow_front=bow * at.unit,
        bow_rear=-2.2 * at.unit,
        bulge=0.9 * at.unit,
        radius=1.6 * at.unit if not at.separate_wings else 0.8 * at.unit,
        name="bonnet",
    )


def _scuttle(at: Stations) -> Polygon:
    x0 = at.bonnet_rear + at.gap
    x1 = at.screen_foot if at.form.closed else at.door_front + 7 * at.unit
    front = at.lengths.bonnet_width / 2
    return _four_sided(
        x0=x0,
        x1=max(x1, x0 + 3 * at.unit),
        front=front,
        rear=max(front * 1.03, (0.35 if at.separate_wings else 0.40) * at.lengths.width),
        bow_front=2.0 * at.unit,
        bow_rear=-2.4 * at.unit,
        bulge=0.0,
        radius=0.7 * at.unit,
        name="scuttle",
    )


def _roof(at: Stations) -> Polygon:
    half = (0.33 if at.separate_wings else 0.355) * at.lengths.width
    boxy = at.form in {BodyForm.VAN, BodyForm.ESTATE}
    return _four_sided(
        x0=at.screen_top,
        x1=at.rear_top,
        front=half * 0.96,
        rear=half * (1.0 if boxy else 0.93),
        bow_front=2.6 * at.unit,
        bow_rear=0.8 * at.unit if boxy else 1.8 * at.unit,
        bulge=0.9 * at.unit,
        radius=2.6 * at.unit,
        name="roof",
    )


def _tonneau(at: Stations) -> Polygon:
    """The deck behind the seats: a U around the rear of the cockpit."""
    half = (0.36 if at.separate_wings else 0.42) * at.lengths.width
    x1 = at.boot_front - at.gap
    x0 = min(at.door_end - 6 * at.unit, x1 - 14 * at.unit)
    hollow = half - 5.5 * at.unit
    points = trail(
        (x1 - 5 * at.unit, 0),
        [(x1 - 5 * at.unit, 0.62 * hollow), (x1 - 6 * at.unit, hollow), (x0, hollow)],
        [(x0, half)],
        [(x1 - 2 * at.unit, half), (x1, half * 0.93)],
        [(x1, 0)],
    )
    return _fitted(
        rounded(_both_halves(points), radius=0.9 * at.unit, name="tonneau panel"), x0, x1
    )


def _boot_lid(at: Stations) -> Polygon:
    half = at.lengths.bonnet_width / 2
    front = half * (0.97 if at.form.closed else 0.90)
    return _four_sided(
        x0=at.boot_front,
        x1=at.boot_rear,
        front=front,
        rear=front * 0.90,
        bow_front=-1.8 * at.unit if at.form.closed else 0.0,
        bow_rear=2.2 * at.unit,
        bulge=0.8 * at.unit,
        radius=2.2 * at.unit,
        name="boot lid",
    )


def _bed_floor(at: Stations) -> Polygon:
    half = at.bed_half
    return _four_sided(
        x0=at.boot_front,
        x1=at.boot_rear,
        front=half,
        rear=half,
        bow_front=0.0,
        bow_rear=0.0,
        bulge=0.0,
        radius=0.6 * at.unit,
        name="bed floor",
    )
