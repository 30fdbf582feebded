"""The gap along an edge, drawn wider than to scale, and its twin mirrored below."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from asfound.base import InputError
from asfound.dossier.figures.edge_side import Side, draw_side
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.measure.gaps import EdgeResult, GapResult

_WIDTH = 620.0
_LEFT, _RIGHT, _TOP = 80.0, 600.0, 44.0
_ROOM = 115.0
"""Height that the widest gap of a side may take."""
_BODY = 30.0
"""Height of the panel that is drawn beside a gap."""
_MIDDLE = 26.0
_SIZE = 12.5
_TIMES = (100.0, 80.0, 60.0, 50.0, 40.0, 30.0, 25.0, 20.0, 15.0, 10.0, 8.0, 5.0, 3.0, 2.0, 1.0)
_TICKS_MM = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)


def edge_svg(result: GapResult, edge: str, *, theme: Theme = "page") -> str:
    """One edge as SVG, with its twin mirrored below it where it has one.

    Parameters
    ----------
    result : GapResult
    edge : str
        Name of one of its edges.
    theme : {"page", "print"}

    Raises
    ------
    InputError
        If there is no such edge, or neither it nor its twin has a reading.

    Notes
    -----
    The gap is open between two panels, drawn as many times wider than to scale as the figure
    says; the line is the fitted one with its 95 % band shaded about it; dashes are the twin's
    line, mirrored. Limits are dotted.
    """
    names = next(((t.left, t.right) for t in result.twins if edge in (t.left, t.right)), (edge,))
    shown = [e for name in names for e in result.edges if e.ground.edge == name]
    if not shown or not any(e.readings for e in shown):
        allowed = ", ".join(e.ground.edge for e in result.edges if e.readings) or "none"
        raise InputError(field="edge", got=edge, allowed=f"an edge with readings ({allowed})")
    return render(_drawing(shown, PALETTES[theme]))


def _drawing(edges: list[EdgeResult], palette: Palette) -> Node:
    low, high = _span_mm(edges)
    across = (_RIGHT - _LEFT) / max(high - low, 1.0)
    most_mm = max(_widest_mm(e) for e in edges)
    times = next((t for t in _TIMES if most_mm * across * t <= _ROOM), _TIMES[-1])
    up = across * times
    reach = most_mm * up + _BODY
    middle = _TOP + reach + _MIDDLE
    sides = [
        Side(
            edge=e,
            twin=next((o for o in edges if o is not e), None),
            x0=_LEFT - low * across,
            across=across,
            up=up,
            base=middle - turn * _MIDDLE,
            turn=turn,
            reach=reach,
        )
        for e, turn in zip(edges, (1, -1), strict=False)
    ]
    below = _MIDDLE + reach + _SIZE * 2 if len(sides) > 1 else _SIZE
    height = middle + below + _SIZE * 3.4
    title = " and ".join(e.ground.edge for e in edges)
    root = _root(f"Gap of {title}", height)
    for side in sides:
        root.add(*draw_side(side, palette, left=_LEFT, right=_RIGHT, size=_SIZE))
    root.add(*_axis(low, high, across, middle, palette))
    return root.add(*_words(times, height, palette, twins=len(sides) > 1))


def _span_mm(edges: list[EdgeResult]) -> tuple[float, float]:
    places = [r.along_mm for e in edges for r in e.readings]
    low, high = min(places), max(places)
    return (low, high) if high > low else (low - 50.0, high + 50.0)


def _widest_mm(edge: EdgeResult) -> float:
    """Widest that the drawing of a side has to hold: readings, band, limits."""
    widest = [r.gap_mm for r in edge.readings] + [1.0]
    if edge.fit:
        ends = [edge.fit.gap.at(share) for share in (0.0, 1.0)]
        widest += [end.value + end.expanded(coverage=0.95) for end in ends]
    widest += [edge.ground.most_mm] if edge.ground.most_mm else []
    return max(widest)


def _root(title: str, height: float) -> Node:
    return svg_root(
        title,
        width=_WIDTH,
        height=height,
        class_="edge-drawing",
    )


def _axis(
    low: float, high: float, across: float, middle: float, palette: Palette
) -> Iterator[Node]:
    """Places along the edge, in the middle between the sides."""
    style = Style(size=_SIZE * 0.84, colour=palette.soft)
    step = next((s for s in _TICKS_MM if (high - low) / s <= 7), _TICKS_MM[-1])
    for mm in np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step:
        x = _LEFT + (float(mm) - low) * across
        yield node("path", d=f"M{number(x)} {number(middle - 11)}v4", stroke=palette.soft)
        yield text(f"{mm:g}", x, middle, style, palette, anchor="middle")
    yield text("mm", _LEFT - 26, middle, style, palette, anchor="middle")


def _words(times: float, height: float, palette: Palette, *, twins: bool) -> Iterator[Node]:
    style = Style(size=_SIZE * 0.88, colour=palette.soft, slant="italic")
    first = "Gap to scale." if times == 1 else f"Gap drawn {times:g} times as wide as to scale."
    rest = " Dashed: the twin's line, mirrored." if twins else ""
    yield text(f"{first} Shaded: 95 % about the line.", _LEFT, height - 30, style, palette)
    yield text(f"Dotted: limits, where set.{rest}", _LEFT, height - 13, style, palette)
