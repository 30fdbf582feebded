"""Seams on the unfolded sheet: the worse the match, the thicker the line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.ops import nearest_points

from asfound.dossier.figures.frame import rings
from asfound.dossier.figures.ground import PanelGround, unread_ground
from asfound.dossier.figures.keys import scale_bar
from asfound.dossier.figures.layout import unfold
from asfound.dossier.figures.names import panel_name
from asfound.dossier.figures.palette import PALETTES, TINT_INK, TINT_PAPER, Palette, Theme
from asfound.dossier.figures.room import Room
from asfound.dossier.figures.sheet import KEY_HEIGHT, SHEET_WIDTH, fit_sheet
from asfound.dossier.figures.svg import Node, node, number, path, render, svg_root
from asfound.dossier.figures.swatch import shown
from asfound.dossier.figures.words import Style, label, label_box, text
from asfound.measure.colour import Seam, ViewedColour
from asfound.record.convert.neighbours import NEAR_MM
from asfound.record.folder import CarFolder

_SIZE: dict[Theme, float] = {"page": 11.5, "print": 12.5}
_THINNEST, _PER_E00, _MOST_E00 = 1.6, 1.5, 6.0
_TOLD_FROM_U = 2.0
"""Below so many standard uncertainties a seam's difference is drawn as not told."""
_SAMPLES_E00 = (1.0, 3.0, 6.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A seam on the drawing: where it runs, and whether its panels lie beside each other."""

    seam: Seam
    line: LineString
    is_beside: bool


def seams_svg(
    folder: CarFolder,
    group: ViewedColour | None,
    *,
    links: Callable[[str], str] | None = None,
    theme: Theme = "page",
) -> str:
    """The unfolded sheet with the colour of its panels and the seams between them, as SVG.

    Parameters
    ----------
    folder : CarFolder
        Gives panels and their places.
    group : ViewedColour or None
        Readings of one light and observer; ``None`` draws bare panels.
    links : callable, optional
        Address to go to for a panel; each panel becomes a link.
    theme : {"page", "print"}
        "page" follows the page's own colours and face; "print" has literal ones.
    """
    palette, size = PALETTES[theme], _SIZE[theme]
    placed = unfold(folder)
    scale, shift, height = fit_sheet(placed)
    grounds = [unread_ground("seams", p, scale, shift) for p in placed]
    outlines = {ground.name: ground.outline for ground in grounds}
    room = Room((8, 8, SHEET_WIDTH - 8, height - KEY_HEIGHT), list(outlines.values()))
    lines = list(_lines(group, outlines, near=NEAR_MM * scale))
    told = f"Colour and seams: {folder.name}"
    root = svg_root(
        told,
        width=SHEET_WIDTH,
        height=height,
        class_="survey-figure seams-figure",
        told=_in_words(lines),
        leads=bool(links),
    )
    colours = _colours(group)
    root.add(*(_panel(ground, colours, palette, links) for ground in grounds))
    for line in lines:
        root.add(*_drawn(line))
    for line in lines:
        root.add(_figure(line, room, palette, size))
    for ground in grounds:
        root.add(*panel_name(ground, "steel", room, palette, size))
    return render(root.add(_keys(palette, size, height, scale)))


def _colours(group: ViewedColour | None) -> dict[str, str]:
    places = group.places if group else ()
    return {p.subject: shown(p.mean.lab).hex for p in places if p.exposure == "exposed"}


def _panel(
    ground: PanelGround,
    colours: dict[str, str],
    palette: Palette,
    links: Callable[[str], str] | None,
) -> Node:
    name = ground.name
    words = name if name in colours else f"{name}: no exposed reading"
    shape = node(
        "path",
        node("title", words),
        d=path(rings(ground.outline), closed=True),
        fill_rule="evenodd",
        fill=colours.get(name, palette.paper),
        stroke=palette.soft,
        stroke_width="1",
        stroke_dasharray=None if name in colours else "3 3",
    )
    if links is None:
        return shape
    return node("a", shape, href=links(name), class_="panel-link", aria_label=words)


def _lines(
    group: ViewedColour | None, outlines: dict[str, Polygon], *, near: float
) -> Iterator[_Line]:
    for seam in group.seams if group else ():
        if seam.first in outlines and seam.second in outlines:
            yield _line(seam, outlines[seam.first], outlines[seam.second], near)


def _line(seam: Seam, one: Polygon, two: Polygon, near: float) -> _Line:
    """Along the edge that two panels share, or across the fold that parts them."""
    if one.distance(two) > near:
        return _Line(seam=seam, line=LineString(nearest_points(one, two)), is_beside=False)
    along = shapely.line_merge(one.boundary & two.buffer(near))
    pieces = [p for p in shapely.get_parts(along) if isinstance(p, LineString)]
    return _Line(seam=seam, line=max(pieces, key=lambda p: p.length), is_beside=True)


def _width(e00: float) -> float:
    return _THINNEST + _PER_E00 * min(e00, _MOST_E00)


def _is_told(seam: Seam) -> bool:
    e00 = seam.change.delta_e00
    return e00.value >= _TOLD_FROM_U * e00.u


def _drawn(line: _Line) -> list[Node]:
    width = _width(line.seam.change.delta_e00.value)
    return _strokes(line.line, width, is_told=_is_told(line.seam), is_beside=line.is_beside)


def _strokes(line: LineString, width: float, *, is_told: bool, is_beside: bool) -> list[Node]:
    d = path([np.asarray(line.coords)], closed=False)
    dashes = ("7 4" if is_told else "1 4.5") if not is_beside or not is_told else None
    under = node("path", d=d, fill="none", stroke=TINT_PAPER, stroke_width=width + 2.4)
    over = node("path", d=d, fill="none", stroke=TINT_INK, stroke_width=width)
    if dashes:
        over.attributes["stroke-dasharray"] = dashes
    return [under, over]


def _figure(line: _Line, room: Room, palette: Palette, size: float) -> Node:
    """ΔE00 beside the middle of its seam; upon it where all the ground about is taken."""
    words = (f"{line.seam.change.delta_e00.value:.1f}",)
    style = Style(size=size, colour=TINT_INK, halo=TINT_PAPER, weight="bold")
    middle = line.line.interpolate(0.5, normalized=True)
    x0, y0, x1, y1 = label_box(words, 0, 0, style).bounds
    w, h = (x1 - x0) / 2 + 6, (y1 - y0) / 2 + 4
    around = [(w, 0), (-w, 0), (0, -h), (0, h), (w, -h), (-w, h), (w, h), (-w, -h), (0, 0)]
    boxes = [label_box(words, middle.x + i, middle.y + j, style) for i, j in around]
    box = room.first_free(boxes) or boxes[0]
    return label(words, box, style, palette, class_="seam-figure")


def _in_words(lines: list[_Line]) -> str:
    told = (
        f"{one.seam.first} to {one.seam.second}: ΔE00 {one.seam.change.delta_e00.value:.1f}"
        for one in lines
    )
    return ". ".join(told) or "No seam was compared"


def _keys(palette: Palette, size: float, height: float, scale: float) -> Node:
    y = height - KEY_HEIGHT + 22
    style = Style(size=size * 0.95, colour=palette.ink)
    keys = node("g", class_="keys")
    rule = f"M24 {number(y - 16)}H{number(SHEET_WIDTH - 24)}"
    keys.add(node("path", d=rule, stroke=palette.rule, stroke_width="1"))
    for at, e00 in enumerate(_SAMPLES_E00):
        x = 32.0 + 118 * at
        line = LineString([(x, y + 8), (x + 34, y + 8)])
        more = " and more" if e00 == _MOST_E00 else ""
        keys.add(*_strokes(line, _width(e00), is_told=True, is_beside=True))
        keys.add(text(f"ΔE00 {e00:g}{more}", x + 42, y + 8, style, palette))
    dots = LineString([(32, y + 32), (66, y + 32)])
    keys.add(*_strokes(dots, _width(1.0), is_told=False, is_beside=True))
    keys.add(text("no difference told (under 2 u)", 74, y + 32, style, palette))
    dashed = LineString([(268, y + 32), (302, y + 32)])
    keys.add(*_strokes(dashed, _width(1.0), is_told=True, is_beside=False))
    keys.add(text("across a fold of the sheet", 310, y + 32, style, palette))
    keys.add(scale_bar(scale, palette, x=540, y=y, most=190, size=size * 0.95))
    said = ("panels in their exposed colour,", "as the screen can show it")
    for at, words in enumerate(said):
        keys.add(text(words, 800, y + 8 + 18 * at, style, palette))
    return keys
