"""A panel's flat sheet: its grid, what lies inside, distances to its edges, and outlines on it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import contourpy
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

GRID_SIDE = 40  # cells along the longer side: fine enough for an area drawn in cm
# An outline overlaps the true one most, on average, when drawn where work is somewhat less
# likely than not: the best threshold is v/(1 + v) for an attainable overlap v of about 0.55.
OUTLINE_ODDS = 0.36
SMALLEST_AREA_MM2 = 400.0  # below a gauge's footprint an outline says nothing


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """A regular grid over a panel.

    ``x_mm`` (nx,), ``y_mm`` (ny,); ``inside`` (ny, nx); ``points_mm`` (m, 2) are the nodes
    inside.
    """

    outline: Polygon
    x_mm: NDArray[np.float64]
    y_mm: NDArray[np.float64]
    inside: NDArray[np.bool_]
    points_mm: NDArray[np.float64]

    def field(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """``values`` (m,) of the nodes inside as a field (ny, nx), NaN outside."""
        out = np.full(self.inside.shape, np.nan)
        out[self.inside] = values
        return out

    def inside_of(self, piece: Polygon) -> NDArray[np.bool_]:
        """Which nodes (m,) lie inside ``piece`` or on its edge."""
        hair_mm = float(self.x_mm[1] - self.x_mm[0]) / 100
        return np.asarray(shapely.contains_xy(piece.buffer(hair_mm), *self.points_mm.T))


def make_sheet(outline: Polygon) -> Sheet:
    """The grid over ``outline``, at most 40 cells along its longer side."""
    left, low, right, high = outline.bounds
    step = max(right - left, high - low) / GRID_SIDE
    x = np.linspace(left, right, max(math.ceil((right - left) / step), 4) + 1)
    y = np.linspace(low, high, max(math.ceil((high - low) / step), 4) + 1)
    across, up = np.meshgrid(x, y)
    # A hair of a buffer keeps the nodes that lie on the outline itself.
    inside = shapely.contains_xy(outline.buffer(step / 100), across.ravel(), up.ravel())
    inside = inside.reshape(across.shape)
    if not inside.any():  # a sliver between the nodes still has one place to speak of
        core = outline.representative_point()
        inside.flat[int(np.argmin((across - core.x) ** 2 + (up - core.y) ** 2))] = True
    return Sheet(outline, x, y, inside, np.column_stack([across[inside], up[inside]]))


def outline_above(
    sheet: Sheet, values: NDArray[np.float64], *, threshold: float = OUTLINE_ODDS
) -> list[Polygon]:
    """The parts of the panel where ``values`` (m,), given at the nodes inside, exceed a threshold.

    Notes
    -----
    No piece is drawn in which no node passes one half. The field is carried on beyond the outline
    by its nearest value, contoured, and clipped to the outline; pieces smaller than 4 cm² are
    left out.
    """
    least = max(threshold, 0.5)
    if values.size == 0 or float(values.max()) <= least:
        return []
    field = _carried_on(sheet, values)
    x, y = _padded(sheet.x_mm), _padded(sheet.y_mm)
    maker = contourpy.contour_generator(
        x, y, np.pad(field, 1, constant_values=0.0), fill_type=contourpy.FillType.OuterOffset
    )
    filled: Any = maker.filled(threshold, np.inf)  # its type depends on fill_type
    points, offsets = filled
    raw = [_polygon(p, o) for p, o in zip(points, offsets, strict=True)]
    whole = shapely.union_all([shapely.make_valid(piece) for piece in raw])
    pieces = _pieces(whole.intersection(sheet.outline))
    return [piece for piece in pieces if values[sheet.inside_of(piece)].max(initial=0.0) > least]


def _polygon(points: NDArray[np.float64], offsets: NDArray[np.uint32]) -> Polygon:
    rings = [points[a:b] for a, b in pairwise(offsets)]
    return Polygon(rings[0], rings[1:])


def _padded(axis: NDArray[np.float64]) -> NDArray[np.float64]:
    step = (axis[-1] - axis[0]) / 1000
    return np.concatenate([[axis[0] - step], axis, [axis[-1] + step]])


def _carried_on(sheet: Sheet, values: NDArray[np.float64]) -> NDArray[np.float64]:
    field = np.where(sheet.inside, sheet.field(values), np.nan)
    for _ in range(2):
        around = np.pad(field, 1, constant_values=np.nan)
        near = np.stack([around[1:-1, :-2], around[1:-1, 2:], around[:-2, 1:-1], around[2:, 1:-1]])
        known = np.isfinite(near)
        total = np.where(known, near, 0.0).sum(axis=0)
        mean = total / np.maximum(known.sum(axis=0), 1)
        field = np.where(np.isnan(field) & known.any(axis=0), mean, field)
    return np.where(np.isnan(field), 0.0, field)


def _pieces(shape: shapely.Geometry) -> list[Polygon]:
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    flat: list[Polygon] = []
    for part in parts:
        if isinstance(part, MultiPolygon):
            flat.extend(part.geoms)
        elif isinstance(part, Polygon):
            flat.append(part)
    return sorted(
        (piece for piece in flat if piece.area >= SMALLEST_AREA_MM2),
        key=lambda piece: (-piece.area, piece.bounds),
    )
