"""A piece of the salvage stock to scale: its flaws, what is taken, its nap, a cut laid on it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon, Polygon

from asfound.dossier.figures.svg import Node, Points, node, number, path, render, svg_root

_ROOM = 0.04
_ARROW = 0.22
"""Length of the arrow of the nap, as a share of the longer side."""
_ROUND_MM = (10, 20, 50, 100, 200, 500, 1000, 2000)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceDrawing:
    """What is drawn of a piece, all in its own mm.

    Parameters
    ----------
    key : str
        Letters and digits that no other figure of the page has.
    name : str
        For the title, which is read out.
    outline : Polygon
    defects, used, reserved : sequence of Polygon
    nap_deg : float or None
        From the x axis towards the y axis, which runs down.
    both_ways : bool
    laid : Polygon or None
        A cut that is looked at.
    """

    key: str
    name: str
    outline: Polygon
    defects: Sequence[Polygon] = ()
    used: Sequence[Polygon] = ()
    reserved: Sequence[Polygon] = ()
    nap_deg: float | None = None
    both_ways: bool = False
    laid: Polygon | None = None


def salvage_svg(drawing: PieceDrawing) -> str:
    """Figure with a scale of round length; patterns tell areas apart without colour."""
    left, top, right, bottom = drawing.outline.bounds
    long = max(right - left, bottom - top)
    space, foot = _ROOM * long, 0.09 * long
    root = svg_root(
        _title(drawing),
        _patterns(drawing.key, long),
        width=right - left + 2 * space,
        height=bottom - top + 2 * space + foot,
        corner=(left - space, top - space),
        class_="salvage-figure",
    )
    root.add(_area(drawing.outline, "salvage-outline"))
    for areas, name, pattern in (
        (drawing.used, "salvage-used", "hatched"),
        (drawing.reserved, "salvage-reserved", ""),
        (drawing.defects, "salvage-flaw", "dotted"),
    ):
        fill = f"url(#{pattern}-{drawing.key})" if pattern else None
        root.add(*(_area(area, name, fill) for area in areas))
    if drawing.laid is not None:
        root.add(_area(drawing.laid, "salvage-laid"))
    if drawing.nap_deg is not None:
        root.add(_nap(drawing, long))
    root.add(*_scale(left, bottom + space + 0.3 * foot, long))
    return render(root)


def _title(drawing: PieceDrawing) -> str:
    told = [drawing.name]
    for areas, words in (
        (drawing.defects, "flaw"),
        (drawing.used, "used area"),
        (drawing.reserved, "reserved area"),
    ):
        if areas:
            told.append(f"{len(areas)} {words}{'' if len(areas) == 1 else 's'}")
    if drawing.laid is not None:
        told.append("a cut laid on it")
    return ", ".join(told)


def _patterns(key: str, long: float) -> Node:
    """Hatching for what is used, dots for flaws: a step that suits the size of the piece."""
    step = long / 110
    line = node("path", d=f"M0 {number(step)}L{number(step)} 0", class_="salvage-hatch")
    dot = node("circle", cx=step / 2, cy=step / 2, r=step / 4, class_="salvage-dot")
    return node(
        "defs",
        *(
            node(
                "pattern",
                mark,
                id=f"{name}-{key}",
                width=step,
                height=step,
                patternUnits="userSpaceOnUse",
            )
            for name, mark in (("hatched", line), ("dotted", dot))
        ),
    )


def _area(area: Polygon | MultiPolygon, name: str, fill: str | None = None) -> Node:
    return node("path", d=_rings(area), class_=name, fill_rule="evenodd", fill=fill)


def _rings(area: Polygon | MultiPolygon) -> str:
    parts: Iterable[Polygon] = area.geoms if isinstance(area, MultiPolygon) else (area,)
    rings = [ring for part in parts for ring in (part.exterior, *part.interiors)]
    return path([np.asarray(ring.coords)[:, :2] for ring in rings], closed=True)


def _nap(drawing: PieceDrawing, long: float) -> Node:
    """Arrow in the middle of the piece; two heads where it runs alike both ways."""
    assert drawing.nap_deg is not None
    middle = drawing.outline.representative_point()
    turn = math.radians(drawing.nap_deg)
    along = np.array([math.cos(turn), math.sin(turn)])
    half = _ARROW * long / 2
    start, end = (np.array([middle.x, middle.y]) + sign * half * along for sign in (-1, 1))
    lines = [np.array([start, end]), _head(end, along, long)]
    if drawing.both_ways:
        lines.append(_head(start, -along, long))
    return node("path", d=path(lines, closed=False), class_="salvage-nap")


def _head(tip: Points, along: Points, long: float) -> Points:
    across = np.array([-along[1], along[0]])
    back, wide = 0.05 * long, 0.025 * long
    return np.array([tip - back * along + wide * across, tip, tip - back * along - wide * across])


def _scale(x: float, y: float, long: float) -> list[Node]:
    """Line of a round length with its number."""
    length = max((mm for mm in _ROUND_MM if mm <= long / 2.5), default=_ROUND_MM[0])
    end = number(0.012 * long)
    ticks = f"M{number(x)} {number(y)}v{end}M{number(x + length)} {number(y)}v{end}"
    bar = f"{ticks}M{number(x)} {number(y)}h{length}"
    size = 0.038 * long
    words = node(
        "text",
        f"{length} mm",
        x=x + length + 0.5 * size,
        y=y + 0.4 * size,
        font_size=size,
        class_="salvage-mm",
    )
    return [node("path", d=bar, class_="salvage-scale"), words]
