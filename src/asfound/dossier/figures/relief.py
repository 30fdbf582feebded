"""The film over a panel as bands of colour and isolines with their levels."""

from __future__ import annotations

import math
from dataclasses import dataclass

import contourpy
import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from shapely import Polygon

from asfound.dossier.figures.frame import Frame
from asfound.dossier.figures.levels import Levels
from asfound.dossier.figures.palette import Palette, ink_on
from asfound.dossier.figures.room import Room, lengths_along
from asfound.dossier.figures.svg import Node, Points, node, path
from asfound.dossier.figures.words import Style, label, label_box
from asfound.measure.film import Surface

_FINE_MM = 12.0
"""Grids coarser than this are drawn through a smooth finer one, so that isolines run round."""
_STRAIGHT = 0.96
_DOUBT_SHARE = 0.5
"""Ground is in doubt where the film is known no better than this share of itself (95 %)."""
_COVERAGE_FACTOR = 1.96


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A field on a regular grid without gaps, a little larger than the panel."""

    x_mm: NDArray[np.float64]
    y_mm: NDArray[np.float64]
    z: NDArray[np.float64]

    def bands(self, least: float, most: float = math.inf) -> list[Points]:
        """Rings around the ground between two levels [mm]; holes run the other way."""
        made = self._generator.filled(least, most)
        return [
            ring
            for points, offsets in zip(*made, strict=True)
            for ring in np.split(points, offsets[1:-1].tolist())
        ]

    def lines(self, level: float) -> list[Points]:
        """Isolines at a level [mm]."""
        return [np.asarray(line, dtype=float) for line in self._generator.lines(level)]

    @property
    def _generator(self) -> contourpy.ContourGenerator:
        return contourpy.contour_generator(
            self.x_mm,
            self.y_mm,
            self.z,
            line_type=contourpy.LineType.Separate,
            fill_type=contourpy.FillType.OuterOffset,
        )


def grid_of(surface: Surface, field: NDArray[np.float64]) -> Grid:
    """Field with its gaps filled from the nearest ground, one cell wider on each side."""
    filled = _without_gaps(np.asarray(field, dtype=float))
    x, y = np.asarray(surface.x_mm, dtype=float), np.asarray(surface.y_mm, dtype=float)
    step = max(float(np.diff(x).max(initial=0)), float(np.diff(y).max(initial=0)))
    if step > _FINE_MM:
        factor = min(4, math.ceil(step / _FINE_MM))
        x, y, filled = _finer(x, factor), _finer(y, factor), _smoothly_finer(filled, factor)
    return Grid(x_mm=_wider(x), y_mm=_wider(y), z=np.pad(filled, 1, mode="edge"))


def band_nodes(grid: Grid, levels: Levels, frame: Frame) -> list[Node]:
    """Ground at or above each edge, painted over the ground before it."""
    low = float(grid.z.min())
    first = max(0, int(np.searchsorted(levels.edges_um, low, side="right")) - 1)
    high = float(grid.z.max())
    edges = [(b, levels.edges_um[b]) for b in range(first + 1, levels.bands_n)]
    return [
        node(
            "path",
            d=path(map(frame.points, grid.bands(edge)), closed=True),
            fill=levels.colour(band),
        )
        for band, edge in edges
        if edge < high
    ]


def doubt_rings(surface: Surface, frame: Frame) -> str:
    """Path data of the ground where the film is in large doubt; empty where there is none."""
    share = _COVERAGE_FACTOR * surface.u_um / np.maximum(np.abs(surface.film_um), 1.0)
    grid = grid_of(surface, share)
    if float(grid.z.max()) <= _DOUBT_SHARE:
        return ""
    return path(map(frame.points, grid.bands(_DOUBT_SHARE)), closed=True)


@dataclass(slots=True)
class Isolines:
    """Isolines of one panel, and the words on them."""

    lines: list[Node]
    labels: list[Node]


def isolines(
    grid: Grid,
    levels: Levels,
    frame: Frame,
    *,
    outline: Polygon,
    room: Room,
    palette: Palette,
    size: float,
) -> Isolines:
    """Isolines of a panel; each long one bears its level where there is room for it."""
    drawn = Isolines([], [])
    inside = outline.buffer(-size * 0.3)
    for level in levels.isolines_um:
        runs = [frame.points(run) for run in grid.lines(level)]
        if not runs:
            continue
        strong = levels.is_index(level)
        drawn.lines.append(
            node(
                "path",
                d=path(runs, closed=False),
                fill="none",
                stroke=ink_on(levels.colour_at(level)),
                stroke_opacity="0.75" if strong else "0.42",
                stroke_width="0.9" if strong else "0.55",
            )
        )
        style = Style(
            size=size, colour=ink_on(levels.colour_at(level)), halo=levels.colour_at(level)
        )
        words = (f"{level:g}",)
        for run in sorted(runs, key=len, reverse=True)[:4]:
            placed = _on_line(run, words, style, inside, room)
            if placed:
                box, angle = placed
                drawn.labels.append(label(words, box, style, palette, angle_deg=angle))
    return drawn


def _on_line(
    run: Points, words: tuple[str, ...], style: Style, inside: Polygon, room: Room
) -> tuple[Polygon, float] | None:
    """A straight enough stretch within the panel where nothing else stands."""
    if len(run) < 2:
        return None
    lengths = lengths_along(run)
    left, _, right, _ = label_box(words, 0, 0, style).bounds
    window = right - left
    if lengths[-1] < 2.5 * window:
        return None
    tries = max(3, min(24, int(lengths[-1] / window)))
    for k in _from_the_middle(tries):
        middle = window + (lengths[-1] - 2 * window) * k / (tries - 1)
        ends = [_at(run, lengths, middle + side * window / 2) for side in (-1, 1)]
        (x0, y0), (x1, y1) = sorted(ends)
        if math.hypot(x1 - x0, y1 - y0) < _STRAIGHT * window:
            continue
        x, y = _at(run, lengths, middle)
        angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
        box = label_box(words, x, y, style, angle_deg=angle)
        if inside.contains(box) and room.is_free(box):
            room.take_words(box)
            return box, angle
    return None


def _from_the_middle(n: int) -> list[int]:
    return sorted(range(n), key=lambda k: (abs(k - (n - 1) / 2), k))


def _at(run: Points, lengths: list[float], length: float) -> tuple[float, float]:
    return (
        float(np.interp(length, lengths, run[:, 0])),
        float(np.interp(length, lengths, run[:, 1])),
    )


def _without_gaps(field: NDArray[np.float64]) -> NDArray[np.float64]:
    gaps = ~np.isfinite(field)
    if not gaps.any():
        return field
    nearest = ndimage.distance_transform_edt(gaps, return_distances=False, return_indices=True)
    return np.asarray(field[tuple(nearest)])


def _finer(axis: NDArray[np.float64], factor: int) -> NDArray[np.float64]:
    return np.linspace(axis[0], axis[-1], (len(axis) - 1) * factor + 1)


def _smoothly_finer(field: NDArray[np.float64], factor: int) -> NDArray[np.float64]:
    """Cubic between the nodes, kept within the field's own range so that no peak is invented."""
    rows, columns = ((n - 1) * factor + 1 for n in field.shape)
    at = np.meshgrid(np.arange(rows) / factor, np.arange(columns) / factor, indexing="ij")
    fine = ndimage.map_coordinates(field, at, order=3, mode="nearest")
    return np.asarray(np.clip(fine, field.min(), field.max()), dtype=float)


def _wider(axis: NDArray[np.float64]) -> NDArray[np.float64]:
    step = float(np.diff(axis).max(initial=0)) or 1.0
    return np.concatenate(([axis[0] - step], axis, [axis[-1] + step]))
