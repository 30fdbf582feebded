"""One panel's ground, marks and isolines, the same on the sheet and alone."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.layout import PlacedPanel
from asfound.dossier.figures.levels import Levels
from asfound.dossier.figures.marks import area_outline, later_work, next_mark, spot_marks
from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.relief import band_nodes, doubt_rings, grid_of, isolines
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import Node, Points, node, path
from asfound.measure.film import NextSpot, PanelReading


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelGround:
    """A panel on a drawing: where it lies, what was read there, what to measure next."""

    name: str
    key: str
    frame: Frame
    outline: Polygon
    spots: Points
    reading: PanelReading | None
    next_spots: tuple[tuple[int, NextSpot], ...] = ()

    @property
    def is_read(self) -> bool:
        """Whether the film over the panel is known at all."""
        return self.reading is not None and self.reading.spots_n > 0

    @property
    def later_work(self) -> list[tuple[Polygon, str, float]]:
        """Outline, kind and probability of each suspected later work."""
        return later_work(self.reading, self.outline, self.frame)


def key_of(*names: str) -> str:
    """Stable id for use within one page."""
    return "-".join(re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "x" for name in names)


def unread_ground(
    figure: str, placed: PlacedPanel, scale: float, shift: tuple[float, float]
) -> PanelGround:
    """A panel as the names on a sheet want it; the one spot keeps "no readings" off it."""
    frame = Frame(placement=placed.placement, scale=scale, shift_x=shift[0], shift_y=shift[1])
    return PanelGround(
        name=placed.panel.panel,
        key=key_of(figure, placed.panel.panel),
        frame=frame,
        outline=frame.polygon(placed.panel.outline),
        spots=np.zeros((1, 2)),
        reading=None,
    )


def next_points(ground: PanelGround) -> list[tuple[int, float, float]]:
    """Numbers and places of the spots to measure next, in drawing units."""
    return [(n, *ground.frame.point(s.x_mm, s.y_mm)) for n, s in ground.next_spots]


def take_marks(ground: PanelGround, room: Room, *, arm: float) -> None:
    """Keep words off the spots and crosses of the panel."""
    reach = 2 * arm
    room.take(*(box_around(x, y, width=reach, height=reach) for x, y in ground.spots.tolist()))
    room.take_words(*(box_around(x, y, width=8, height=8) for _, x, y in next_points(ground)))
    room.take(*(outline.boundary for outline, _, _ in ground.later_work))


def draw_ground(
    ground: PanelGround,
    levels: Levels | None,
    palette: Palette,
    *,
    pattern: str,
    lines: list[Node],
) -> list[Node]:
    """Bands, isolines, doubt and outline of a panel, clipped to its shape."""
    shape = path(rings(ground.outline), closed=True)
    edge = {"d": shape, "fill_rule": "evenodd", "stroke_linejoin": "round"}
    border = node("path", **edge, fill="none", stroke=palette.ink, stroke_width="1")
    reading = ground.reading
    if reading is None or levels is None or not ground.is_read:
        return [node("path", **edge, fill=palette.paper), border]
    grid = grid_of(reading.surface, reading.surface.film_um)
    clip = node("clipPath", node("path", d=shape, clip_rule="evenodd"), id=f"{ground.key}-clip")
    base = node("path", **edge, fill=levels.colour_at(float(grid.z.min())))
    relief = node("g", clip_path=f"url(#{ground.key}-clip)")
    relief.add(*band_nodes(grid, levels, ground.frame))
    doubt = doubt_rings(reading.surface, ground.frame)
    if doubt:
        relief.add(node("path", d=doubt, fill=f"url(#{pattern})", class_="doubt"))
    relief.add(*lines)
    return [clip, base, relief, border]


def draw_isolines(
    ground: PanelGround, levels: Levels | None, palette: Palette, room: Room, *, size: float
) -> tuple[list[Node], list[Node]]:
    """Isolines of a panel, and the levels on them that found room."""
    reading = ground.reading
    if reading is None or levels is None or not ground.is_read:
        return [], []
    drawn = isolines(
        grid_of(reading.surface, reading.surface.film_um),
        levels,
        ground.frame,
        outline=ground.outline,
        room=room,
        palette=palette,
        size=size,
    )
    return drawn.lines, drawn.labels


def draw_marks(ground: PanelGround, *, arm: float) -> list[Node]:
    """Outlines of later work, then spots, then the places to measure next."""
    nodes: list[Node] = []
    for outline, _, _ in ground.later_work:
        nodes += area_outline(outline)
    if len(ground.spots):
        nodes += spot_marks(ground.spots, arm=arm)
    for _, x, y in next_points(ground):
        nodes += next_mark(x, y, arm=1.7 * arm)
    return nodes


def spots_in(frame: Frame, places: dict[str, tuple[float, float]]) -> Points:
    """Spots of a panel in drawing units, shape (n, 2)."""
    return frame.points(np.array(list(places.values()), dtype=float).reshape(-1, 2))
