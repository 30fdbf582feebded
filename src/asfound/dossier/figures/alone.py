"""A panel alone on its drawing: its frame, and its own mm at the edges."""

from __future__ import annotations

import numpy as np
from shapely import Polygon

from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.room import Room
from asfound.dossier.figures.svg import Node, node, number, path, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.placement import Placement

WIDTH, _MOST_HEIGHT = 620.0, 560.0
_SIDE, _TOP, _BOTTOM = 58.0, 58.0, 40.0
KEY_HEIGHT = 58.0
SIZE = 12.5
_TICKS_MM = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


def frame_alone(outline: Polygon) -> tuple[Frame, float]:
    """Frame that fits the panel, and the height of its drawing with the keys below."""
    left, top, right, bottom = outline.bounds
    space_x = WIDTH - 2 * _SIDE
    space_y = _MOST_HEIGHT - _TOP - _BOTTOM - KEY_HEIGHT
    scale = min(space_x / (right - left), space_y / (bottom - top))
    shift_x = (WIDTH - (right - left) * scale) / 2 - left * scale
    frame = Frame(placement=Placement(), scale=scale, shift_x=shift_x, shift_y=_TOP - top * scale)
    return frame, (bottom - top) * scale + _TOP + _BOTTOM + KEY_HEIGHT


def panel_root(panel: str, words: str, frame: Frame, height: float, *, told: str = "") -> Node:
    """Root of a panel's drawing; a tap on it is told in the panel's own mm by what it bears.

    A point (X, Y) of the drawing is x = x0 + X / scale, y = y0 + Y / scale on the panel.
    """
    root = svg_root(
        words,
        width=WIDTH,
        height=height,
        class_="panel-drawing",
        data_panel=panel,
        data_x0=f"{-frame.shift_x / frame.scale:.6g}",
        data_y0=f"{-frame.shift_y / frame.scale:.6g}",
        data_scale=f"{frame.scale:.8g}",
    )
    return root.add(node("desc", told)) if told else root


def graticule(outline: Polygon, frame: Frame, height: float, palette: Palette) -> Node:
    """The panel's own mm along the top and left edges."""
    left, top, right, bottom = outline.bounds
    most = max(right - left, bottom - top) / 6
    step = next((s for s in _TICKS_MM if s >= most), _TICKS_MM[-1])
    style = Style(size=SIZE * 0.76, colour=palette.soft)
    x0, y0, x1, y1 = _framed(height)
    group = node("g", class_="graticule")
    group.add(
        node("rect", x=x0, y=y0, width=x1 - x0, height=y1 - y0, fill="none", stroke=palette.rule)
    )
    for mm in _ticks(left, right, step):
        x, _ = frame.point(mm, top)
        group.add(node("path", d=f"M{number(x)} {number(y0)}v5", stroke=palette.soft))
        group.add(text(f"{mm:g}", x, y0 - 8, style, palette, anchor="middle"))
    for mm in _ticks(top, bottom, step):
        _, y = frame.point(left, mm)
        group.add(node("path", d=f"M{number(x0)} {number(y)}h5", stroke=palette.soft))
        group.add(text(f"{mm:g}", x0 - 4, y, style, palette, anchor="end"))
    return group


def room_alone(height: float, *panels: Polygon) -> Room:
    """Room for words within the frame, off the mm at its edges."""
    x0, y0, x1, y1 = _framed(height)
    return Room((x0 + 2, y0 + 2, x1 - 2, y1 - 2), list(panels))


def _framed(height: float) -> tuple[float, float, float, float]:
    """Corners of the frame, with room on its left for a number of four figures on a phone."""
    return 42.0, 26.0, WIDTH - 8.0, height - KEY_HEIGHT - 4.0


def plain_panel(outline: Polygon, palette: Palette) -> Node:
    """A panel's shape on paper, with nothing on it."""
    return node(
        "path",
        d=path(rings(outline), closed=True),
        fill=palette.paper,
        fill_rule="evenodd",
        stroke=palette.ink,
        stroke_width="1",
        stroke_linejoin="round",
    )


def _ticks(low: float, high: float, step: float) -> list[float]:
    first = int(np.ceil(low / step - 1e-9))
    last = int(np.floor(high / step + 1e-9))
    return [step * k for k in range(first, last + 1)]
