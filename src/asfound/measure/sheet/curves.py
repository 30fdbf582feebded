"""Smooth lines and rounded outlines.

Drawing here is in the car's own frame: x from nose to tail, z up from the ground (side view), or
x to the right of what is looked at and y up (front and rear view). Everything is in mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import scipy
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from asfound.base import InputError

Point = tuple[float, float]
_STEPS = 20
_ARC_SEGMENTS = 24


def bezier(*controls: Point) -> list[Point]:
    """Points along a Bézier curve of any degree, its start left out.

    Notes
    -----
    De Casteljau's construction: repeated linear interpolation between the control points.

    Examples
    --------
    >>> bezier((0.0, 0.0), (1.0, 2.0), (2.0, 0.0))[9]
    (1.0, 1.0)
    """
    t = np.linspace(0, 1, _STEPS + 1)[1:, None]
    level: list[NDArray[np.float64]] = [np.array([c], float) for c in controls]
    while len(level) > 1:
        level = [a * (1 - t) + b * t for a, b in pairwise(level)]
    return [(float(x), float(y)) for x, y in np.broadcast_to(level[0], (_STEPS, 2))]


def trail(start: Point, *moves: Sequence[Point]) -> list[Point]:
    """A line from a start through moves; each move is the control points after the last point.

    One point is a straight line, two a quadratic, three a cubic Bézier curve.
    """
    points = [start]
    for move in moves:
        points += [move[0]] if len(move) == 1 else bezier(points[-1], *move)
    return points


def flowing(points: Sequence[Point]) -> list[Point]:
    """A smooth line through points that never swings beyond its neighbours.

    A point that does not lie further along x than those before it is passed over.

    References
    ----------
    F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300–304, as in scipy's PCHIP.
    """
    ahead = [p for i, p in enumerate(points) if all(p[0] > q[0] for q in points[:i])]
    x, z = np.array(ahead, float).T
    at = np.unique(np.concatenate([x, np.linspace(x[0], x[-1], 120)]))
    return [
        (float(a), float(b))
        for a, b in zip(at, scipy.interpolate.PchipInterpolator(x, z)(at), strict=True)
    ]


def disc(*, x: float, z: float, radius: float) -> Polygon:
    """A round plate."""
    return shapely.Point(x, z).buffer(radius, quad_segs=_ARC_SEGMENTS)


def arch(*, x: float, z: float, ahead: float, behind: float, rise: float) -> Polygon:
    """The opening over a wheel: an arc over the hub with straight returns to the ground.

    Parameters
    ----------
    x, z : float
        The hub.
    ahead, behind : float
        Width of the opening on either side of the hub.
    rise : float
        Height of the arc above the hub.
    """
    angle = np.linspace(0, math.pi, 2 * _ARC_SEGMENTS + 1)
    wide = np.where(angle < math.pi / 2, behind, ahead)
    arc = np.column_stack([x + wide * np.cos(angle), z + rise * np.sin(angle)])
    return Polygon([(x + behind, -rise), *arc.tolist(), (x - ahead, -rise)])


def largest(shape: BaseGeometry, name: str) -> Polygon:
    """The largest piece of a shape, holes left out.

    Raises
    ------
    InputError
        If nothing of the panel is left between its neighbours.
    """
    pieces = shape.geoms if isinstance(shape, MultiPolygon) else [shape]
    solid = [p for p in pieces if isinstance(p, Polygon) and not p.is_empty]
    if not solid:
        raise InputError(
            field=name,
            got="no area",
            allowed="a panel with room between its neighbours",
            remedy="Check the lengths of bonnet, doors and boot against wheelbase and overhangs.",
        )
    return Polygon(max(solid, key=lambda p: p.area).exterior)


def rounded(shape: BaseGeometry, *, radius: float, name: str, inner: float = 0.0) -> Polygon:
    """An outline with its outward corners rounded, and on demand the inward ones too.

    Notes
    -----
    Opening (shrink, then grow by the radius) rounds what points outwards, closing what points
    inwards. Curves that are already softer than the radius keep their shape.
    """
    opened = shape.buffer(-radius, quad_segs=12).buffer(radius, quad_segs=12)
    if inner:
        opened = opened.buffer(inner, quad_segs=12).buffer(-inner, quad_segs=12)
    return largest(opened, name)
