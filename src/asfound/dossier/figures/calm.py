"""The edge of an area without the steps of the grid on which it was found."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon

from asfound.dossier.figures.svg import Points

_ON_RIM = 0.5
"""A point so near to the panel's rim lies on it [drawing units]."""
_PIECES = 4
"""Points a reach."""


def calm(area: Polygon, panel: Polygon, *, reach: float) -> Polygon:
    """Area with a smooth edge; where it follows the panel's own edge it is left as it is.

    Parameters
    ----------
    area : Polygon
        As the grid gave it.
    panel : Polygon
        Outline of the panel that it lies on.
    reach : float
        Standard deviation of the Gaussian weights along the edge [drawing units]: a step or two
        of the grid, which knows nothing finer.

    Notes
    -----
    Only the drawing is calmed: the size and the probability of an area are those of the reading.
    """
    rings = [_smooth(np.asarray(r.coords), panel, reach) for r in (area.exterior, *area.interiors)]
    calmed = Polygon(rings[0], rings[1:])
    return calmed if calmed.is_valid and not calmed.is_empty else area


def _smooth(ring: Points, panel: Polygon, reach: float) -> Points:
    points = ring[:-1]
    on_rim = shapely.distance(shapely.points(points), panel.boundary) < _ON_RIM
    if not on_rim.any():
        return _averaged(_dense(ring, reach), closed=True)
    begin = int(np.argmax(on_rim))
    points, on_rim = np.roll(points, -begin, axis=0), np.roll(on_rim, -begin)
    points, on_rim = np.vstack([points, points[:1]]), np.append(on_rim, True)
    return np.vstack(list(_pieces(points, np.flatnonzero(on_rim), reach)))


def _pieces(points: Points, rim: NDArray[np.intp], reach: float) -> Iterator[Points]:
    """Points on the rim as they are, and smooth lines between them."""
    for here, there in pairwise(rim.tolist()):
        inside = points[here : there + 1]
        yield points[here : here + 1] if there == here + 1 else _averaged(_dense(inside, reach))
    yield points[-1:]


def _dense(line: Points, reach: float) -> Points:
    """Points at even steps along a line."""
    string = LineString(line)
    count = max(3, int(string.length / reach * _PIECES))
    return shapely.get_coordinates(string.interpolate(np.linspace(0, 1, count), normalized=True))


def _averaged(line: Points, *, closed: bool = False) -> Points:
    """Gaussian mean along the line; the ends of an open one stay where they are."""
    wide = min(3 * _PIECES, len(line) - 1)
    weights = np.exp(-0.5 * (np.arange(-wide, wide + 1) / _PIECES) ** 2)
    before, after = line[wide:0:-1], line[-2 : -2 - wide : -1]
    if closed:
        before, after = line[-1 - wide : -1], line[1 : 1 + wide]
    else:
        before, after = 2 * line[0] - before, 2 * line[-1] - after
    padded = np.vstack([before, line, after])
    return np.column_stack(
        [np.convolve(column, weights / weights.sum(), mode="valid") for column in padded.T]
    )
