"""Words on a drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shapely import Polygon

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.room import box_around, centre, width_of
from asfound.dossier.figures.svg import Node, node, number

Anchor = Literal["start", "middle", "end"]
_LINE = 1.18
_BASELINE = 0.35
"""The baseline lies about so far below the middle of a line of figures [em]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a label is set."""

    size: float
    colour: str
    halo: str | None = None
    weight: str | None = None
    slant: str | None = None
    spaced: float = 0.0
    capitals: bool = False


def label_box(
    lines: tuple[str, ...], x: float, y: float, style: Style, *, angle_deg: float = 0.0
) -> Polygon:
    """Rectangle that the lines take about a centre."""
    shown = [_shown(line, style) for line in lines]
    width = max(width_of(line, size=style.size, spaced=style.spaced) for line in shown)
    height = _LINE * style.size * len(lines)
    return box_around(x, y, width=width, height=height, angle_deg=angle_deg)


def label(
    lines: tuple[str, ...],
    box: Polygon,
    style: Style,
    palette: Palette,
    *,
    angle_deg: float = 0.0,
    class_: str | None = None,
) -> Node:
    """Lines set in the middle of their box."""
    x, y = centre(box)
    group = node("g", class_=class_) if len(lines) > 1 else node("g")
    top = y - _LINE * style.size * (len(lines) - 1) / 2
    for index, line in enumerate(lines):
        at_y = top + _LINE * style.size * index
        turn = f"rotate({number(angle_deg)} {number(x)} {number(at_y)})" if angle_deg else None
        group.add(text(line, x, at_y, style, palette, anchor="middle", transform=turn))
    (first, *rest) = group.children
    if rest or not isinstance(first, Node):
        return group
    if class_:
        first.attributes["class"] = class_
    return first


def text(
    words: str,
    x: float,
    y: float,
    style: Style,
    palette: Palette,
    *,
    anchor: Anchor = "start",
    transform: str | None = None,
) -> Node:
    """One line of text; ``y`` is the middle of the line."""
    return node(
        "text",
        _shown(words, style),
        x=x,
        y=y + _BASELINE * style.size,
        font_size=style.size,
        font_family=palette.font,
        font_weight=style.weight,
        font_style=style.slant,
        letter_spacing=style.spaced * style.size if style.spaced else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=style.colour,
        stroke=style.halo,
        stroke_width=style.size * 0.28 if style.halo else None,
        stroke_linejoin="round" if style.halo else None,
        paint_order="stroke" if style.halo else None,
        transform=transform,
    )


def _shown(words: str, style: Style) -> str:
    """Capitals are set small and spaced: the size is the style's own."""
    return words.upper() if style.capitals else words
