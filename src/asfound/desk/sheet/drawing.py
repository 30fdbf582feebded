"""The bare sheet: every panel to scale in its place, with its name where there is room."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import shapely
from shapely import Polygon

from asfound.dossier.figures.frame import Frame
from asfound.dossier.figures.layout import unfold
from asfound.dossier.figures.svg import Node, node, path, render, svg_root
from asfound.record.folder import CarFolder

_WIDTH, _EDGE = 720.0, 12.0
_SIZE = 12.0
_SIGN = 0.56
"""Width of a letter as a share of its height, on average."""


def drawing_svg(folder: CarFolder, *, links: Callable[[str], str] | None = None) -> str:
    """Panels of a car as outlines, without anything that was read on them.

    Parameters
    ----------
    folder : CarFolder
    links : callable, optional
        Address to go to for a panel; each panel becomes a link.
    """
    placed = unfold(folder)
    boxes = np.array([p.bounds_mm for p in placed] or [(0.0, 0.0, 1000.0, 500.0)])
    left, top = boxes[:, :2].min(axis=0)
    right, bottom = boxes[:, 2:].max(axis=0)
    scale = (_WIDTH - 2 * _EDGE) / (right - left)
    height = (bottom - top) * scale + 2 * _EDGE
    root = svg_root(
        "The unfolded sheet",
        width=_WIDTH,
        height=height,
        class_="bare-sheet",
        leads=links is not None,
    )
    for p in placed:
        frame = Frame(
            placement=p.placement,
            scale=scale,
            shift_x=_EDGE - left * scale,
            shift_y=_EDGE - top * scale,
        )
        root.add(_panel(p.panel.panel, frame.polygon(p.panel.outline), links))
    return render(root)


def _panel(name: str, shape: Polygon, links: Callable[[str], str] | None) -> Node:
    ring = path([np.asarray(shape.exterior.coords)], closed=True)
    group = node("g", node("title", name), node("path", d=ring, class_="skin"))
    group.add(*_name(name, shape))
    if links is None:
        return group
    return node("a", group, href=links(name), aria_label=name)


def _name(name: str, shape: Polygon) -> list[Node]:
    """Name inside the panel, on one line or a word a line, where it fits."""
    middle = shapely.maximum_inscribed_circle(shape).coords[0]
    for lines in ([name], name.split()):
        wide = max(map(len, lines)) * _SIGN * _SIZE / 2
        tall = len(lines) * _SIZE * 0.6
        x, y = middle
        if shape.covers(shapely.box(x - wide, y - tall, x + wide, y + tall)):
            first = y + _SIZE * 0.35 - (len(lines) - 1) * _SIZE * 0.55
            return [
                node("text", line, x=x, y=first + i * _SIZE * 1.1, text_anchor="middle")
                for i, line in enumerate(lines)
            ]
    return []
