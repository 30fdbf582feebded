"""The corners of an outline that a hand can take hold of, among its many fine points."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import shapely
from shapely import Polygon

_FLATTEST = 0.018
"""A corner stands out from its neighbours by at least this share of the panel's size."""
_NEAREST = 0.05


def corners(outline: Polygon) -> list[int]:
    """Places in the outline's row of points (the closing one left out) that are corners.

    At least three; those that lie close behind the one before are passed over.

    Examples
    --------
    >>> corners(Polygon([(0, 0), (500, 0), (1000, 1), (1000, 600), (0, 600)]))
    [0, 2, 3, 4]
    """
    points = list(outline.exterior.coords)[:-1]
    left, top, right, bottom = outline.bounds
    long, short = max(right - left, bottom - top), min(right - left, bottom - top)
    plain = shapely.get_coordinates(outline.simplify(_FLATTEST * long))
    kept = {(float(x), float(y)) for x, y in plain}
    standing = [i for i, (x, y) in enumerate(points) if (x, y) in kept]
    spaced = _spaced(points, standing, least=min(_NEAREST * long, 0.5 * short))
    return spaced if len(spaced) >= 3 else standing


def _spaced(points: list[tuple[float, ...]], chosen: list[int], *, least: float) -> list[int]:
    along = [0.0]
    for a, b in pairwise([*points, points[0]]):
        along.append(along[-1] + dist(a, b))
    spaced: list[int] = []
    for i in chosen:
        if not spaced or along[i] - along[spaced[-1]] >= least:
            spaced.append(i)
    if len(spaced) > 1 and along[-1] - along[spaced[-1]] + along[spaced[0]] < least:
        spaced.pop()
    return spaced
