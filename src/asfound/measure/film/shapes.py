"""The shapes that local work may take on a panel: feathered ellipses and bands along edges."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, Polygon

from asfound.measure.field import distances_mm
from asfound.measure.film.ellipses import LARGEST_MM, SMALLEST_MM, drawn, ellipses_at

ELLIPSES_N = 380
CHILDREN_N = 140
CHILD_AWAY, CHILD_SIZE = 0.22, 0.18  # of the parent's radius; of its logarithm
LONE_MM = 200.0  # what a lone spot speaks for
# A band is half as deep at its width from the edge; it falls off over twice this share of it.
BAND_WIDTHS_MM = (32.0, 42.0, 55.0, 72.0, 94.0, 124.0)
BAND_FALLS = (0.33, 0.5)
# Generators of the additive recurrence that fills the unit cube evenly in six dimensions: the
# powers of the inverse root of x⁷ = x + 1, as the golden ratio does in one.
_ROOT = 1.1127756842787055
_STEPS = _ROOT ** -np.arange(1.0, 7.0)


@dataclass(frozen=True, slots=True, eq=False)
class Litter:
    """Children of ``parents``, drawn from each in proportion to ``share``."""

    parents: NDArray[np.float64]
    share: NDArray[np.float64]
    count: int
    away: float
    size: float

    def density(self, ellipses: NDArray[np.float64]) -> NDArray[np.float64]:
        """Density of children at ``ellipses``."""
        sd = self.away * self.parents[:, 2]
        z2 = ((ellipses[:, None, :2] - self.parents[None, :, :2]) ** 2).sum(-1) / sd**2
        z2 += (np.log(ellipses[:, None, 2] / self.parents[None, :, 2]) / self.size) ** 2
        top = self.share / ((2 * np.pi) ** 1.5 * sd**2 * self.size)
        return np.asarray(np.exp(-0.5 * z2) @ top)


@dataclass(frozen=True, slots=True, eq=False)
class Shapes:
    """All shapes tried on a panel; the first ``ellipses_n`` add film, the bands take it.

    ``ellipses`` has a row a shape: x, y, radius [mm], aspect, turn [rad], feather (share of the
    radius); ``log_odds`` is its prior share. ``bands`` are edge lines, widths and falls. The last
    ellipses are the children of ``litters``.
    """

    ellipses: NDArray[np.float64]
    log_odds: NDArray[np.float64]
    bands: tuple[tuple[shapely.Geometry, float, float], ...]
    litters: tuple[Litter, ...] = ()

    @property
    def ellipses_n(self) -> int:
        """Number of shapes that add film."""
        return len(self.ellipses)

    @property
    def count(self) -> int:
        """Number of all shapes."""
        return len(self.ellipses) + len(self.bands)

    def at(
        self, points_mm: NDArray[np.float64], which: NDArray[np.int64] | None = None
    ) -> NDArray[np.float64]:
        """The height (0–1) of shapes at points: (shapes, points)."""
        which = np.arange(self.count) if which is None else which
        out = np.empty((len(which), len(points_mm)))
        round_ones = which < self.ellipses_n
        out[round_ones] = ellipses_at(self.ellipses[which[round_ones]], points_mm)
        place = shapely.points(points_mm)
        away: dict[int, NDArray[np.float64]] = {}
        for row in np.flatnonzero(~round_ones):
            edge, width, fall = self.bands[which[row] - self.ellipses_n]
            if id(edge) not in away:
                away[id(edge)] = shapely.distance(place, edge)
            rise = (1 - away[id(edge)] / width) / (2 * fall)
            out[row] = np.clip(0.5 + rise, 0.0, 1.0)
        return out


def make_shapes(outline: Polygon, spots_mm: NDArray[np.float64]) -> Shapes:
    """The shapes for a panel with this outline and these spots (n, 2).

    Notes
    -----
    Small shapes are strewn more densely, evenly in the logarithm of the radius, as a small one
    must lie just so to fit. Each counts by its radius, since a work is as likely to have any.
    """
    ellipses = np.vstack([_spread(outline), _around(spots_mm)])
    radius = ellipses[:, 2]
    return Shapes(
        ellipses,
        np.log(radius / radius.sum()),
        tuple(product(_edges(outline), BAND_WIDTHS_MM, BAND_FALLS)),
    )


def breed(
    shapes: Shapes,
    parents: NDArray[np.int64],
    outline: Polygon,
    rng: np.random.Generator,
    *,
    closeness: float = 1.0,
) -> Shapes:
    """``shapes`` and children of the ellipses that histories use, to fit their places closer.

    ``closeness`` scales how far children lie from their parents.

    Notes
    -----
    Children lie about their parents, so they may not count like shapes strewn evenly: every
    ellipse x gets the weight r p(x)/(n p(x) + Σ m q(x)), with r its radius over the mean of those
    strewn, p the density strewn, q that of each litter, n and m their numbers (the balance
    heuristic; Veach and Guibas, SIGGRAPH 1995).
    """
    chosen = shapes.ellipses[rng.choice(parents, CHILDREN_N)]
    away = rng.standard_normal((CHILDREN_N, 3))
    even = rng.random((CHILDREN_N, 3))
    far, size = CHILD_AWAY * closeness, CHILD_SIZE * closeness
    radius = chosen[:, 2] * np.exp(size * away[:, 2])
    place = chosen[:, :2] + far * chosen[:, 2:3] * away[:, :2]
    inside = shapely.contains_xy(outline, place) & (radius > SMALLEST_MM) & (radius < LARGEST_MM)
    children = np.column_stack([place, radius, drawn(even)])[inside]
    every = np.vstack([shapes.ellipses, children])
    used, count = np.unique(parents, return_counts=True)
    litter = Litter(shapes.ellipses[used], count / count.sum(), len(children), far, size)
    litters = (*shapes.litters, litter)
    strewn_n = len(every) - sum(one.count for one in litters)
    even_density = 1 / (outline.area * np.log(LARGEST_MM / SMALLEST_MM))
    near = sum(one.count * one.density(every) for one in litters)
    weight = even_density / (strewn_n * even_density + near)
    weight *= every[:, 2] / every[:strewn_n, 2].mean()
    return Shapes(every, np.log(weight), shapes.bands, litters)


def _spread(outline: Polygon) -> NDArray[np.float64]:
    left, low, right, high = outline.bounds
    even = np.mod(0.5 + np.arange(1, 4 * ELLIPSES_N + 1)[:, None] * _STEPS, 1.0)
    x, y = left + even[:, 0] * (right - left), low + even[:, 1] * (high - low)
    inside = np.flatnonzero(shapely.contains_xy(outline, x, y))[:ELLIPSES_N]
    even, x, y = even[inside], x[inside], y[inside]
    largest = max(min(LARGEST_MM, 0.5 * max(right - left, high - low)), 2 * SMALLEST_MM)
    radius = SMALLEST_MM * (largest / SMALLEST_MM) ** even[:, 2]
    return np.column_stack([x, y, radius, drawn(even[:, 3:])])


def nearest_mm(spots: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far from each spot (n, 2) the nearest other lies; 200 mm for a lone spot."""
    apart = distances_mm(spots, spots)
    apart[apart < 1.0] = np.inf
    nearest = apart.min(axis=1)
    return np.where(np.isfinite(nearest), nearest, LONE_MM)


def _around(spots: NDArray[np.float64]) -> NDArray[np.float64]:
    """One small disc a spot, so that work which meets a single spot has its shape."""
    if len(spots) < 2:
        return np.empty((0, 6))
    radius = np.clip(0.6 * nearest_mm(spots), SMALLEST_MM, LARGEST_MM)
    rest = np.tile([1.0, 0.0, 0.4], (len(spots), 1))
    return np.column_stack([spots, radius, rest])


def _edges(outline: Polygon) -> list[shapely.Geometry]:
    """The whole rim, and its parts that face left, right, down and up."""
    rim = np.asarray(shapely.orient_polygons(outline).exterior.coords)
    along = np.diff(rim, axis=0)
    facing = np.arctan2(-along[:, 0], along[:, 1])
    side = np.mod(np.round(facing / (np.pi / 2)).astype(int), 4)
    out: list[shapely.Geometry] = [outline.exterior]
    for s in range(4):
        parts = [LineString(rim[i : i + 2]) for i in np.flatnonzero(side == s)]
        if parts:
            out.append(MultiLineString(parts))
    return out
