"""Marks that people drew over a photograph, as a layer that lies on the picture."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from asfound.dossier.figures.palette import PALETTES, TINT_INK, TINT_PAPER, Theme
from asfound.dossier.figures.svg import Node, node, path, render, svg_root
from asfound.dossier.figures.words import Anchor, Style, text
from asfound.record.convert.photo_marks import Mark

_WIDE = 1_000.0
_INK, _HALO, _SIZE = 4.5, 11.0, 32.0
_HEAD_LONG, _HEAD_HALF_DEG = 34.0, 24.0


def marks_svg(
    marks: Sequence[Mark], *, width_px: int, height_px: int, theme: Theme = "page"
) -> str:
    """Layer of marks for a picture of that shape, 1000 units wide.

    Parameters
    ----------
    marks : sequence of Mark
    width_px, height_px : int
        Of the picture, upright; only their ratio matters.
    theme : {"page", "print"}

    Returns
    -------
    str
        SVG; each mark is ink on a paper edge, to be seen on light and on dark ground.
    """
    high = _WIDE * height_px / width_px
    root = svg_root(
        f"{len(marks)} mark{'' if len(marks) == 1 else 's'} drawn over the photograph",
        *(mark_nodes(mark, high, theme) for mark in marks),
        width=_WIDE,
        height=high,
        class_="marks",
        preserveAspectRatio="none",
    )
    return render(root)


def mark_nodes(mark: Mark, high: float, theme: Theme) -> Node:
    """One mark on a layer 1000 units wide and ``high`` units high."""
    points = np.array(mark.points) * (_WIDE, high)
    group = node("g", class_=f"mark mark-{mark.kind}")
    if mark.kind == "ring":
        (x, y), (rx, ry) = points.mean(axis=0), np.abs(points[1] - points[0]) / 2
        for stroke, width in ((TINT_PAPER, _HALO), (TINT_INK, _INK)):
            group.add(
                node(
                    "ellipse",
                    cx=float(x),
                    cy=float(y),
                    rx=float(rx),
                    ry=float(ry),
                    fill="none",
                    stroke=stroke,
                    stroke_width=width,
                )
            )
    elif mark.kind in ("line", "arrow"):
        lines = [points, *([_head(points)] if mark.kind == "arrow" else [])]
        for stroke, width in ((TINT_PAPER, _HALO), (TINT_INK, _INK)):
            group.add(
                node(
                    "path",
                    d=path(lines, closed=False),
                    fill="none",
                    stroke=stroke,
                    stroke_width=width,
                    stroke_linecap="round",
                    stroke_linejoin="round",
                )
            )
    return group.add(_words(mark, points, high, theme))


def _head(points: np.ndarray) -> np.ndarray:
    """Two short strokes at the arrow's tip, as one broken line."""
    tail, tip = points
    back = math.atan2(*(tail - tip)[::-1])
    long = min(_HEAD_LONG, 0.6 * float(np.hypot(*(tail - tip))))
    half = math.radians(_HEAD_HALF_DEG)
    ends = [
        tip + long * np.array([math.cos(back + turn), math.sin(back + turn)])
        for turn in (-half, half)
    ]
    return np.array([ends[0], tip, ends[1]])


def _words(mark: Mark, points: np.ndarray, high: float, theme: Theme) -> Node | None:
    """What the mark says, beside its first point and within the picture."""
    if not mark.words:
        return None
    x, y = (float(v) for v in points[0])
    if mark.kind == "ring":
        x, y = float(points[:, 0].mean()), float(points[:, 1].max()) + _SIZE
    elif mark.kind == "arrow":
        y += math.copysign(_SIZE * 0.8, y - float(points[1][1]) or 1.0)
    y = min(max(y, _SIZE * 0.7), high - _SIZE * 0.7)
    anchor: Anchor = "start" if x < _WIDE * 0.3 else "end" if x > _WIDE * 0.7 else "middle"
    style = Style(size=_SIZE, colour=TINT_INK, halo=TINT_PAPER, weight="600")
    return text(mark.words, x, y, style, PALETTES[theme], anchor=anchor)
