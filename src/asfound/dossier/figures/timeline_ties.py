"""Links of one event, drawn over the timeline."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.svg import Node, node, number
from asfound.dossier.figures.timeline_bar import Bar
from asfound.dossier.figures.words import Style, text
from asfound.record.folder import CarFolder

_BOW = 26.0


def tie_nodes(
    car: CarFolder, event: str, bars: Sequence[Bar], palette: Palette, *, size: float
) -> Iterator[Node]:
    """Each link of the event as a bowed line from its start to its end, with its name."""
    at = {bar.dated.event: bar for bar in bars}
    for row in car.sheet("event_links"):
        start, end = row.text("from"), row.text("to")
        if event not in (start, end) or start not in at or end not in at:
            continue
        aside = row.text("standing") in ("doubted", "withdrawn")
        yield from _tie(at[start], at[end], row.text("id"), palette, size, dashed=aside)


def _tie(
    start: Bar, end: Bar, name: str, palette: Palette, size: float, *, dashed: bool
) -> Iterator[Node]:
    x0, y0 = start.anchor, start.y
    x1, y1 = end.anchor, end.y
    reach = math.hypot(x1 - x0, y1 - y0) or 1.0
    bow_x = (x0 + x1) / 2 + _BOW * (y1 - y0) / reach
    bow_y = (y0 + y1) / 2 - _BOW * (x1 - x0) / reach
    line = f"M{number(x0)} {number(y0)}Q{number(bow_x)} {number(bow_y)} {number(x1)} {number(y1)}"
    for stroke, width in ((palette.paper, 4.5), (palette.ink, 1.6)):
        yield node(
            "path",
            d=line,
            stroke=stroke,
            stroke_width=width,
            stroke_dasharray="4 3" if dashed and stroke == palette.ink else None,
            fill="none",
        )
    yield _head(bow_x, bow_y, x1, y1, palette)
    yield node("circle", cx=x0, cy=y0, r=3, fill=palette.ink)
    style = Style(size=size * 0.85, colour=palette.ink, weight="700", halo=palette.paper)
    middle = (x0 + 2 * bow_x + x1) / 4, (y0 + 2 * bow_y + y1) / 4
    yield text(name, middle[0] + 8, middle[1], style, palette)


def _head(x0: float, y0: float, x1: float, y1: float, palette: Palette) -> Node:
    """Arrowhead at the end of a line that comes from (x0, y0)."""
    turn = math.atan2(y1 - y0, x1 - x0)
    wings = [
        (x1 - 9 * math.cos(turn + side), y1 - 9 * math.sin(turn + side)) for side in (0.4, -0.4)
    ]
    corners = "L".join(f"{number(x)} {number(y)}" for x, y in ((x1, y1), *wings))
    return node("path", d=f"M{corners}z", fill=palette.ink)
