"""The figure on which an outline is corrected: one unit is one mm of the panel."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable

import numpy as np
from shapely import Polygon

from asfound.desk.sheet.corners import corners
from asfound.dossier.figures.svg import Node, node, number, path, render, svg_root

_ROOM = 0.14
"""Free ground around the panel, as a share of its longer side, to drag corners out into."""
_STEPS_MM = (10, 20, 50, 100, 200, 500, 1000)


def bench_svg(panel: str, outline: Polygon, spots: Iterable[tuple[float, float]]) -> str:
    """Outline with its spots over lines of round mm, with what a script needs to move corners."""
    left, top, right, bottom = outline.bounds
    long = max(right - left, bottom - top)
    space = _ROOM * long
    box = (left - space, top - space, right - left + 2 * space, bottom - top + 2 * space)
    points = [(round(x, 1), round(y, 1)) for x, y in outline.exterior.coords[:-1]]
    root = svg_root(
        f"Outline of {panel}",
        width=box[2],
        height=box[3],
        corner=box[:2],
        class_="bench",
        data_points=json.dumps(points),
        data_corners=json.dumps(corners(outline)),
    )
    root.add(*_lines(box, size=long / 34))
    ring = path([np.asarray(outline.exterior.coords)], closed=True)
    root.add(node("path", d=ring, class_="bench-was"), node("path", d=ring, class_="bench-now"))
    arm = long / 90
    for x, y in spots:
        cross = f"M{number(x - arm)} {number(y)}h{number(2 * arm)}"
        down = f"M{number(x)} {number(y - arm)}v{number(2 * arm)}"
        root.add(node("path", d=cross + down, class_="bench-spot"))
    return render(root)


def _lines(box: tuple[float, float, float, float], *, size: float) -> list[Node]:
    """Lines of round mm across the ground, each with its number at the edge."""
    x0, y0, width, height = box
    step = next((s for s in _STEPS_MM if max(width, height) / s <= 12), _STEPS_MM[-1])
    drawn: list[Node] = []
    for x in _rounds(x0, x0 + width, step):
        drawn.append(node("path", d=f"M{x} {number(y0)}v{number(height)}", class_="bench-line"))
        drawn.append(
            node("text", str(x), x=x + size * 0.2, y=y0 + size, font_size=size, class_="bench-mm")
        )
    for y in _rounds(y0 + 2 * size, y0 + height, step):
        drawn.append(node("path", d=f"M{number(x0)} {y}h{number(width)}", class_="bench-line"))
        drawn.append(
            node(
                "text",
                str(y),
                x=x0 + size * 0.2,
                y=y - size * 0.2,
                font_size=size,
                class_="bench-mm",
            )
        )
    return drawn


def _rounds(low: float, high: float, step: int) -> range:
    return range(math.ceil(low / step) * step, math.floor(high) + 1, step)
