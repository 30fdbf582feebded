"""Bars of a balance and its logarithmic scale."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.svg import Node, node, number

WIDTH, MIDDLE, SPAN = 380.0, 190.0, 164.0
"""Of the drawing; where a ratio of one stands; how far the longest bar reaches to a side."""
HEIGHT = 13.0
_LEAST_MOST, _MOST_MOST = 2.0, 6.0
_STRIPE = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Decades to each side of the middle that the drawing holds."""

    most: float

    @classmethod
    def of(cls, decades: Iterable[float]) -> Scale:
        """Scale that holds these logarithms, from two decades to six."""
        furthest = max((abs(d) for d in decades), default=0.0)
        return cls(most=min(max(math.ceil(furthest), _LEAST_MOST), _MOST_MOST))

    def x(self, decades: float) -> float:
        """Place across the drawing; what lies beyond stands at its edge."""
        held = max(-self.most, min(self.most, decades))
        return MIDDLE + held / self.most * SPAN

    def is_beyond(self, decades: float) -> bool:
        """Whether the drawing is too small for it."""
        return abs(decades) > self.most


def bar(
    start: float, end: float, y: float, scale: Scale, palette: Palette, *, aside: bool = False
) -> Iterator[Node]:
    """Bar from one sum to the next: full to the right, striped to the left, dashed if aside."""
    x0, x1 = sorted((scale.x(start), scale.x(end)))
    width = max(x1 - x0, 1.5)
    right = end >= start
    yield node(
        "rect",
        x=x0,
        y=y,
        width=width,
        height=HEIGHT,
        fill=palette.accent if right and not aside else palette.paper,
        stroke=palette.soft if aside else palette.ink,
        stroke_dasharray="3 3" if aside else None,
    )
    if not right and not aside:
        yield _stripes(x0, width, y, palette)
    if not aside:
        yield _tip(scale.x(end), y, right, palette, is_open=scale.is_beyond(end))


def end_mark(total: float, y: float, scale: Scale, palette: Palette) -> Iterator[Node]:
    """Where the beam comes to rest: a line from the middle to a lozenge."""
    x, half = scale.x(total), HEIGHT / 2
    yield node(
        "path",
        d=f"M{number(MIDDLE)} {number(y)}H{number(x)}",
        stroke=palette.ink,
        stroke_width=2.4,
    )
    yield node(
        "path",
        d=f"M{number(x - half)} {number(y)}l{number(half)} {number(-half)} {number(half)} "
        f"{number(half)} {number(-half)} {number(half)}Z",
        fill=palette.paper,
        stroke=palette.ink,
        stroke_width=2,
    )
    if scale.is_beyond(total):
        yield _tip(x + (half + 4) * (1 if total > 0 else -1), y - half, total > 0, palette, True)


def _stripes(x0: float, width: float, y: float, palette: Palette) -> Node:
    count = int(width / _STRIPE)
    strokes = "".join(
        f"M{number(x0 + _STRIPE * (k + 0.5))} {number(y)}v{number(HEIGHT)}" for k in range(count)
    )
    return node("path", d=strokes or "M0 0", stroke=palette.ink, stroke_width=1.1)


def _tip(x: float, y: float, right: bool, palette: Palette, is_open: bool) -> Node:
    """An arrow's head at the end of a bar; two where the bar goes on beyond the drawing."""
    way, half = (5.0 if right else -5.0), HEIGHT / 2
    heads = (0.0, way) if is_open else (0.0,)
    d = "".join(
        f"M{number(x + shift)} {number(y)}l{number(way)} {number(half)} {number(-way)} "
        f"{number(half)}"
        for shift in heads
    )
    return node("path", d=d, fill="none", stroke=palette.ink, stroke_width=1.6)
