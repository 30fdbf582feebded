"""From a panel's own mm to the units of a drawing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from asfound.dossier.figures.svg import Points
from asfound.record.placement import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A panel's place on a drawing: placed on the sheet, then scaled, then shifted."""

    placement: Placement
    scale: float
    shift_x: float = 0.0
    shift_y: float = 0.0

    def points(self, points_mm: Points) -> Points:
        """Points of the panel, shape (n, 2) [mm], in units of the drawing."""
        a, b, c, d, e, f = self.placement.matrix
        turned = points_mm @ np.array([[a, b], [c, d]]) + (e, f)
        return np.asarray(turned * self.scale + (self.shift_x, self.shift_y))

    def point(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """One point of the panel in units of the drawing."""
        ((x, y),) = self.points(np.array([[x_mm, y_mm]])).tolist()
        return x, y

    def polygon(self, outline: Polygon) -> Polygon:
        """Outline in units of the drawing."""
        moved = shapely.transform(outline, self.points)
        assert isinstance(moved, Polygon)
        return moved


def rings(polygon: Polygon) -> list[Points]:
    """Outer and inner rings of a polygon, each of shape (n, 2)."""
    return [np.asarray(ring.coords)[:-1, :2] for ring in (polygon.exterior, *polygon.interiors)]
