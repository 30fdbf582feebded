"""Names on the sheet: of panels, of views, and the words of a panel's metal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import shapely
from shapely import Polygon

from asfound.dossier.figures.ground import PanelGround
from asfound.dossier.figures.marks import led_label
from asfound.dossier.figures.palette import TINT_INK, TINT_PAPER, Palette
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import Node
from asfound.dossier.figures.words import Style, label, label_box

_METAL_WORDS = {"unknown": "metal not known", "other": "not steel or aluminium"}


def panel_name(
    ground: PanelGround,
    substrate: str,
    room: Room,
    palette: Palette,
    size: float,
) -> list[Node]:
    """Name of a panel beside it; its substrate where that is not steel; a word if blank."""
    style = Style(size=size * 0.88, colour=palette.ink, spaced=0.07, capitals=True)
    lines: tuple[str, ...] = (ground.name,)
    box = room.first_free(_beside([ground.outline], lines, style), off_panels=True)
    if box is not None:
        nodes = [label(lines, box, style, palette, class_="panel-name")]
    else:
        nodes = led_label(ground.outline, lines, style, room, palette, class_="panel-name")
    nodes = nodes or _named_within(ground.outline, lines, style, room, palette)
    ink, paper = (TINT_INK, TINT_PAPER) if ground.is_read else (palette.soft, palette.paper)
    small = Style(size=size * 0.88, colour=ink, slant="italic", halo=paper)
    remarks = [] if substrate == "steel" else [_METAL_WORDS.get(substrate, substrate)]
    if not ground.is_read and not len(ground.spots):
        remarks.append("no readings")
    for remark in remarks:
        at = room.first_free(_upon(ground.outline, (remark,), small))
        if at is not None:
            nodes.append(label((remark,), at, small, palette, class_="remark"))
    return nodes


def _named_within(
    outline: Polygon, lines: tuple[str, ...], style: Style, room: Room, palette: Palette
) -> list[Node]:
    """The sheet is full: the name stands on the panel, on a breath of paper."""
    style = replace(style, colour=TINT_INK, halo=TINT_PAPER)
    middle = outline.representative_point()
    box = room.first_free(_upon(outline, lines, style))
    box = box or label_box(lines, middle.x, middle.y, style)
    return [label(lines, box, style, palette, class_="panel-name")]


def _beside(shapes: list[Polygon], lines: tuple[str, ...], style: Style) -> Iterator[Polygon]:
    """Boxes under, over, and at the sides of shapes."""
    bounds = [shape.bounds for shape in shapes]
    left, top = min(b[0] for b in bounds), min(b[1] for b in bounds)
    right, bottom = max(b[2] for b in bounds), max(b[3] for b in bounds)
    x0, y0, x1, y1 = label_box(lines, 0, 0, style).bounds
    w, h = x1 - x0, y1 - y0
    middle, level, gap = (left + right) / 2, (top + bottom) / 2, 3.5
    for away in (0.0, 0.5 * h):
        for x in (middle, left + w / 2, right - w / 2):
            yield box_around(x, bottom + gap + away + h / 2, width=w, height=h)
            yield box_around(x, top - gap - away - h / 2, width=w, height=h)
        for y in (level, top + h, bottom - h):
            yield box_around(right + gap + away + w / 2, y, width=w, height=h)
            yield box_around(left - gap - away - w / 2, y, width=w, height=h)


def outside(shapes: list[Polygon], lines: tuple[str, ...], style: Style) -> Iterator[Polygon]:
    """Boxes at the left of shapes, then above their left end, then anywhere beside them."""
    left, top, _, bottom = shapely.MultiPolygon(shapes).bounds
    x0, y0, x1, y1 = label_box(lines, 0, 0, style).bounds
    w, h = x1 - x0, y1 - y0
    for away in (18.0, 6.0):
        yield box_around(left - away - w / 2, (top + bottom) / 2, width=w, height=h)
        yield box_around(left + w / 2, top - away - h / 2, width=w, height=h)
    yield from _beside(shapes, lines, style)


def _upon(outline: Polygon, lines: tuple[str, ...], style: Style) -> Iterator[Polygon]:
    """Boxes within a shape, from its middle outwards."""
    middle = outline.representative_point()
    x0, y0, x1, y1 = label_box(lines, 0, 0, style).bounds
    w, h = x1 - x0, y1 - y0
    for ring in range(12):
        for turn_x, turn_y in (
            (0, -1),
            (0, 1),
            (-1, 0),
            (1, 0),
            (-1, -1),
            (1, 1),
            (1, -1),
            (-1, 1),
        ):
            x, y = middle.x + turn_x * ring * h, middle.y + turn_y * ring * h * 0.6
            box = box_around(x, y, width=w, height=h)
            if outline.contains(box):
                yield box
