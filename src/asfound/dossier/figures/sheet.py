"""The survey map: the car unfolded, each panel to scale, with what its film says."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon

from asfound.dossier.figures.frame import Frame
from asfound.dossier.figures.ground import (
    PanelGround,
    draw_ground,
    draw_isolines,
    draw_marks,
    key_of,
    next_points,
    spots_in,
    take_marks,
)
from asfound.dossier.figures.keys import colour_bar, legend, scale_bar
from asfound.dossier.figures.layout import PlacedPanel, unfold
from asfound.dossier.figures.levels import Levels, levels_of
from asfound.dossier.figures.marks import callout, hatch, led_label, next_label, percent, spots_of
from asfound.dossier.figures.palette import PALETTES, TINT_INK, TINT_PAPER, Palette, Theme
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import NAMESPACE, Node, node, number, render
from asfound.dossier.figures.words import Style, label, label_box
from asfound.measure.film import FilmReading
from asfound.record.folder import CarFolder

_WIDTH, _MOST_HEIGHT = 1120.0, 980.0
_MARGIN, _TOP, _FOOT = 84.0, 46.0, 54.0
_KEY_HEIGHT = 84.0
_SIZE: dict[Theme, float] = {"page": 11.5, "print": 12.5}
_ARM = 2.6
_METAL_WORDS = {"unknown": "metal not known", "other": "not steel or aluminium"}


def sheet_svg(
    folder: CarFolder,
    reading: FilmReading | None,
    *,
    links: Callable[[str], str] | None = None,
    theme: Theme = "page",
    numbered: bool = True,
) -> str:
    """The unfolded sheet of a car's finish as SVG.

    Parameters
    ----------
    folder : CarFolder
        Gives panels, their places, and spots.
    reading : FilmReading or None
        ``None`` draws panels and spots without film.
    links : callable, optional
        Address to go to for a panel; each panel becomes a link.
    theme : {"page", "print"}
        "page" follows the page's own colours and face; "print" has literal ones.
    numbered : bool
        Show the numbered places to measure next.

    Raises
    ------
    InputError
        If a panel's placement cannot be read.
    """
    return render(_Sheet.of(folder, reading, theme, numbered).draw(folder.name, links))


@dataclass(slots=True)
class _Sheet:
    """A sheet being drawn: what is on it and what room is left."""

    theme: Theme
    grounds: list[PanelGround]
    placed: tuple[PlacedPanel, ...]
    levels: Levels | None
    room: Room
    scale: float
    height: float

    @classmethod
    def of(
        cls, folder: CarFolder, reading: FilmReading | None, theme: Theme, numbered: bool
    ) -> _Sheet:
        placed = unfold(folder)
        scale, shift, height = _fit(placed)
        frames = {
            p.panel.panel: Frame(
                placement=p.placement, scale=scale, shift_x=shift[0], shift_y=shift[1]
            )
            for p in placed
        }
        grounds = [
            _ground(folder, reading, p, frames[p.panel.panel], numbered=numbered) for p in placed
        ]
        room = Room((8, 8, _WIDTH - 8, height - _KEY_HEIGHT), [g.outline for g in grounds])
        return cls(theme, grounds, placed, levels_of(reading), room, scale, height)

    def draw(self, name: str, links: Callable[[str], str] | None) -> Node:
        palette, size = PALETTES[self.theme], _SIZE[self.theme]
        pattern = "sheet-doubt"
        words = self._words(palette, size)
        root = node(
            "svg",
            node("title", f"Survey of the finish: {name}"),
            node("desc", _told(self.grounds)),
            node("defs", hatch(pattern)),
            xmlns=NAMESPACE,
            viewBox=f"0 0 {number(_WIDTH)} {number(self.height)}",
            class_="survey-figure",
            role="group" if links else "img",
            aria_label=f"Survey of the finish: {name}",
        )
        for ground in self.grounds:
            lines, labels = draw_isolines(ground, self.levels, palette, self.room, size=size * 0.72)
            words += labels
            group = node("g", class_="panel", data_panel=ground.name)
            group.add(node("title", _title(ground)))
            group.add(*draw_ground(ground, self.levels, palette, pattern=pattern, lines=lines))
            group.add(*draw_marks(ground, arm=_ARM))
            root.add(_linked(group, ground, links))
        root.add(*words, self._keys(palette, size, pattern))
        return root

    def _words(self, palette: Palette, size: float) -> list[Node]:
        """Numbers first, for they must stand at their crosses; then names, then later work."""
        nodes: list[Node] = []
        for ground in self.grounds:
            take_marks(ground, self.room, arm=_ARM)
        for ground in self.grounds:
            for n, x, y in next_points(ground):
                nodes.append(next_label(x, y, str(n), self.room, palette, size))
        for ground in self.grounds:
            nodes += _name(ground, self.placed, self.room, palette, size)
        nodes += self._views(palette, size)
        for ground in self.grounds:
            for outline, kind, p in ground.later_work:
                nodes += callout(outline, kind, p, self.room, palette, size=size * 0.95)
        return nodes

    def _views(self, palette: Palette, size: float) -> list[Node]:
        """Name of each view beside the panels that share it, where there is room."""
        style = Style(size=size * 0.95, colour=palette.soft, spaced=0.34, capitals=True)
        nodes = []
        for view in dict.fromkeys(p.view for p in self.placed if p.view):
            shapes = [
                g.outline for g, p in zip(self.grounds, self.placed, strict=True) if p.view == view
            ]
            box = self.room.first_free(_outside(shapes, (view,), style), off_panels=True)
            if box is not None:
                nodes.append(label((view,), box, style, palette, class_="view"))
        return nodes

    def _keys(self, palette: Palette, size: float, pattern: str) -> Node:
        y = self.height - _KEY_HEIGHT + 22
        rule = f"M24 {number(y - 16)}H{number(_WIDTH - 24)}"
        keys = node("g", class_="keys")
        keys.add(node("path", d=rule, stroke=palette.rule, stroke_width="1"))
        if self.levels:
            keys.add(colour_bar(self.levels, palette, x=32, y=y, width=330, size=size * 0.95))
        keys.add(scale_bar(self.scale, palette, x=412, y=y, most=190, size=size * 0.95))
        keys.add(legend(palette, x=650, y=y + 6, size=size * 0.95, pattern=pattern))
        return keys


def _fit(placed: tuple[PlacedPanel, ...]) -> tuple[float, tuple[float, float], float]:
    """Scale, shift and height of the drawing so that all panels and their words fit."""
    boxes = [p.bounds_mm for p in placed] or [(0.0, 0.0, 1000.0, 500.0)]
    left, top = min(b[0] for b in boxes), min(b[1] for b in boxes)
    width, tall = max(b[2] for b in boxes) - left, max(b[3] for b in boxes) - top
    space = _WIDTH - 2 * _MARGIN
    scale = min(space / width, (_MOST_HEIGHT - _KEY_HEIGHT - _TOP - _FOOT) / tall)
    shift_x = (_WIDTH - width * scale) / 2 - left * scale
    shift_y = _TOP - top * scale
    return scale, (shift_x, shift_y), tall * scale + _TOP + _FOOT + _KEY_HEIGHT


def _ground(
    folder: CarFolder,
    reading: FilmReading | None,
    placed: PlacedPanel,
    frame: Frame,
    *,
    numbered: bool,
) -> PanelGround:
    name = placed.panel.panel
    panels = reading.panels if reading else ()
    following = reading.next_spots if reading and numbered else ()
    return PanelGround(
        name=name,
        key=key_of("sheet", name),
        frame=frame,
        outline=frame.polygon(placed.panel.outline),
        spots=spots_in(frame, spots_of(folder, name)),
        reading=next((p for p in panels if p.panel == name), None),
        next_spots=tuple((n, s) for n, s in enumerate(following, start=1) if s.panel == name),
    )


def _name(
    ground: PanelGround,
    placed: tuple[PlacedPanel, ...],
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
    substrate = next(p.panel.substrate for p in placed if p.panel.panel == ground.name)
    ink, paper = (TINT_INK, TINT_PAPER) if ground.is_read else (palette.soft, palette.paper)
    small = Style(size=size * 0.88, colour=ink, slant="italic", halo=paper)
    remarks = [] if substrate == "steel" else [_METAL_WORDS.get(substrate, str(substrate))]
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


def _outside(shapes: list[Polygon], lines: tuple[str, ...], style: Style) -> Iterator[Polygon]:
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


def _linked(group: Node, ground: PanelGround, links: Callable[[str], str] | None) -> Node:
    if links is None:
        return group
    return node("a", group, href=links(ground.name), class_="panel-link", aria_label=_title(ground))


def _title(ground: PanelGround) -> str:
    if ground.reading is None or not ground.is_read:
        spots = len(ground.spots)
        return f"{ground.name}: {spots} spots" if spots else f"{ground.name}: no readings"
    words = "; ".join(f"{kind} {percent(p)}" for _, kind, p in ground.later_work)
    return f"{ground.name}: median {ground.reading.median_um:.0f} µm" + (
        f"; {words}" if words else ""
    )


def _told(grounds: list[PanelGround]) -> str:
    return ". ".join(_title(ground) for ground in grounds)
