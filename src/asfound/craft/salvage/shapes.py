"""Measures of a shape, and the convex parts that it is made of."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

Array = NDArray[np.float64]


def triangles_of(shape: shapely.Geometry) -> NDArray[np.object_]:
    """Triangles that together are the shape, without points of their own."""
    cut = shapely.constrained_delaunay_triangles(shape)
    found = [part for part in shapely.get_parts(cut) if part.area > 0]
    return np.array(found, dtype=object)


def convex_parts(shape: Polygon) -> list[Polygon]:
    """The shape itself where it is convex, otherwise triangles that together are it."""
    if not shape.interiors and shape.convex_hull.area - shape.area <= 1e-9 * shape.area:
        return [shape]
    return list(triangles_of(shape))


def length_mm(shape: Polygon) -> float:
    """Greatest distance between two points of the shape."""
    corners = _hull(shape)
    return float(np.max(np.hypot(*(corners[:, None, :] - corners[None, :, :]).T)))


def width_mm(shape: Polygon) -> float:
    """Least width of the shape's hull: the smallest gap between two parallel lines around it.

    Examples
    --------
    >>> width_mm(shapely.box(0, 0, 90, 30))
    30.0
    """
    corners = _hull(shape)
    along = np.roll(corners, -1, axis=0) - corners
    along = along[np.hypot(*along.T) > 0]
    across = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(*along.T)[:, None]
    reach = across @ corners.T
    return float(np.min(reach.max(axis=1) - reach.min(axis=1)))


def long_side_deg(shape: Polygon) -> float:
    """Direction of the longer sides of the smallest rectangle around the shape."""
    ring = shapely.get_coordinates(shape.minimum_rotated_rectangle)
    sides = np.diff(ring[:3], axis=0)
    x, y = sides[int(np.argmax(np.hypot(*sides.T)))]
    return math.degrees(math.atan2(y, x))


def _hull(shape: Polygon) -> Array:
    return shapely.get_coordinates(shape.convex_hull)[:-1]
