"""Marks on a panel: spots, outlines of later work, places to measure next, doubt."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely import LineString, Point, Polygon

from asfound.dossier.figures.calm import calm
from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.palette import TINT_INK, TINT_PAPER, Palette
from asfound.dossier.figures.room import Room, box_around, centre
from asfound.dossier.figures.svg import Node, Points, node, number, path
from asfound.dossier.figures.words import Style, label, label_box
from asfound.measure.film import PanelReading, Surface
from asfound.record.folder import CarFolder

NEXT_INK = "#0f4c43"
"""The accent of the light scheme: next spots stand on tinted ground in every scheme."""
_AS_LIKELY_AS_NOT = 0.5
_CALM_STEPS = 1.5
"""Steps of the grid over which the edge of an area is averaged."""
_ROUND = [(math.cos(a), math.sin(a)) for a in np.linspace(0, 2 * math.pi, 24, endpoint=False)]


def percent(share: float) -> str:
    """Probability in words of percent, never a full hundred nor a bare nought.

    Examples
    --------
    >>> percent(0.873), percent(0.9997), percent(0.001)
    ('87 %', '> 99 %', '< 1 %')
    """
    if share > 0.99:
        return "> 99 %"
    return "< 1 %" if share < 0.01 else f"{share:.0%}".replace("%", " %")


def spots_of(folder: CarFolder, panel: str) -> dict[str, tuple[float, float]]:
    """Place of each spot of a panel [mm]: the middle of its readings."""
    places: dict[str, list[tuple[float, float]]] = {}
    for row in folder.sheet("film"):
        if row.text("panel") == panel:
            place = (row.number("x_mm"), row.number("y_mm"))
            places.setdefault(row.text("spot"), []).append(place)
    return {
        spot: (sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at))
        for spot, at in places.items()
    }


def hatch(key: str) -> Node:
    """Pattern of fine slanting lines for ground in doubt."""
    line = node("path", d="M0 0V6", stroke=TINT_INK, stroke_width="0.55", stroke_opacity="0.6")
    return node(
        "pattern",
        line,
        id=key,
        width=6,
        height=6,
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )


def spot_marks(points: Points, *, arm: float) -> list[Node]:
    """Fine crosses, on a breath of paper so that they show on dark ground too."""
    a = number(2 * arm)
    d = "".join(
        f"M{number(x - arm)} {number(y)}h{a}M{number(x)} {number(y - arm)}v{a}"
        for x, y in points.tolist()
    )
    return [
        node("path", d=d, stroke=TINT_PAPER, stroke_width="2", stroke_opacity="0.7"),
        node("path", d=d, stroke=TINT_INK, stroke_width="0.7"),
    ]


def area_outline(outline: Polygon) -> list[Node]:
    """Dashed outline on a breath of paper."""
    d = path(rings(outline), closed=True)
    under = node("path", d=d, fill="none", stroke=TINT_PAPER, stroke_width="3")
    under.attributes["stroke-opacity"] = "0.75"
    over = node("path", d=d, fill="none", stroke=TINT_INK, stroke_width="1.3")
    over.attributes["stroke-dasharray"] = "6 3"
    return [under, over]


def next_mark(x: float, y: float, *, arm: float) -> list[Node]:
    """Slanting cross."""
    a = number(2 * arm)
    d = f"M{number(x - arm)} {number(y - arm)}l{a} {a}M{number(x - arm)} {number(y + arm)}l{a} -{a}"
    return [
        node("path", d=d, stroke=TINT_PAPER, stroke_width="4.4", stroke_linecap="round"),
        node("path", d=d, stroke=NEXT_INK, stroke_width="1.8", stroke_linecap="round"),
    ]


def next_label(x: float, y: float, words: str, room: Room, palette: Palette, size: float) -> Node:
    """Number of a place to measure next, beside its cross."""
    style = Style(size=size, colour=NEXT_INK, halo=TINT_PAPER, weight="bold")
    left, top, right, bottom = label_box((words,), 0, 0, style).bounds
    dx, dy = (right - left) / 2 + size * 0.55, (bottom - top) / 2
    beside = [
        (dx, 0),
        (-dx, 0),
        (dx, -dy),
        (dx, dy),
        (-dx, -dy),
        (-dx, dy),
        (0, -2 * dy),
        (0, 2 * dy),
    ]
    boxes = [label_box((words,), x + i, y + j, style) for i, j in beside]
    box = room.first_free(boxes)
    if box is None:
        box = boxes[0]
        room.take_words(box)
    return label((words,), box, style, palette)


def later_work(
    reading: PanelReading | None, outline: Polygon, frame: Frame
) -> list[tuple[Polygon, str, float]]:
    """Outline on the drawing, kind and probability of each suspected later work of a panel.

    Where the panel as a whole is suspected and no area stands out, it is the panel's outline.
    """
    if reading is None or not reading.spots_n:
        return []
    if reading.areas or reading.p_later_work < _AS_LIKELY_AS_NOT or not reading.kinds:
        reach = _CALM_STEPS * _step_mm(reading.surface) * frame.scale
        return [
            (calm(frame.polygon(a.outline), outline, reach=reach), a.kind, a.probability)
            for a in reading.areas
        ]
    kind = max(reading.kinds, key=lambda k: (reading.kinds[k], k))
    return [(outline, f"{kind}, whole panel", reading.kinds[kind])]


def _step_mm(surface: Surface) -> float:
    """Step of the grid on which a panel's areas were found [mm]."""
    steps = np.concatenate([np.diff(surface.x_mm), np.diff(surface.y_mm)])
    return float(steps.max(initial=1.0))


def callout(
    outline: Polygon, kind: str, p: float, room: Room, palette: Palette, *, size: float
) -> list[Node]:
    """Words and probability of later work, outside the panels, with a fine leader."""
    lines = (kind, percent(p))
    style = Style(size=size, colour=palette.ink, slant="italic", halo=palette.paper)
    drawn = led_label(outline, lines, style, room, palette, class_="later-work")
    return drawn or _within(outline, lines, room, palette, size)


def led_label(
    shape: Polygon,
    lines: tuple[str, ...],
    style: Style,
    room: Room,
    palette: Palette,
    *,
    class_: str,
) -> list[Node]:
    """Words in the nearest free place off the panels, led to a shape; none if there is none."""
    for box in _around(shape, lines, style):
        if not room.is_free(box, off_panels=True):
            continue
        leader = _leader(box, shape)
        if room.crosses_words(leader):
            continue
        room.take_words(box, leader)
        return [_line(leader), label(lines, box, style, palette, class_=class_)]
    return []


def _within(
    outline: Polygon, lines: tuple[str, ...], room: Room, palette: Palette, size: float
) -> list[Node]:
    """The sheet is full: the words stand on the area itself, as near to free as may be."""
    style = Style(size=size, colour=TINT_INK, slant="italic", halo=TINT_PAPER)
    middle = outline.representative_point()
    boxes = [label_box(lines, middle.x, middle.y, style), *_around(outline, lines, style)]
    box = room.first_free(boxes)
    if box is None:
        return []
    return [label(lines, box, style, palette, class_="later-work")]


def _around(outline: Polygon, lines: tuple[str, ...], style: Style) -> Iterator[Polygon]:
    middle = outline.representative_point()
    template = label_box(lines, 0, 0, style)
    left, top, right, bottom = template.bounds
    for ring in range(1, 40):
        reach = ring * style.size * 1.2
        for cos, sin in _ROUND:
            x, y = middle.x + 1.5 * reach * cos, middle.y + reach * sin
            yield box_around(x, y, width=right - left, height=bottom - top)


def _leader(box: Polygon, outline: Polygon) -> LineString:
    """From the nearest side of the words to just inside the area's edge."""
    x, y = centre(box)
    target = shapely.shortest_line(Point(x, y), outline.boundary).coords[1]
    pulled = shapely.shortest_line(box.buffer(1.0), Point(target)).coords[0]
    return LineString([pulled, target])


def _line(leader: LineString) -> Node:
    (x0, y0), (x1, y1) = leader.coords
    d = f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}"
    stroke = {"fill": "none", "stroke_linecap": "round"}
    return node(
        "g",
        node("path", d=d, stroke=TINT_PAPER, stroke_width="2.4", stroke_opacity="0.8", **stroke),
        node("path", d=d, stroke=TINT_INK, stroke_width="0.7", **stroke),
        node("circle", cx=x1, cy=y1, r="1.7", fill=TINT_INK),
    )
