"""The survey map: the car unfolded, each panel to scale, with what its film says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

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
from asfound.dossier.figures.marks import callout, hatch, next_label, percent, spots_of
from asfound.dossier.figures.names import outside, panel_name
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import Room
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, label
from asfound.measure.film import FilmReading
from asfound.record.folder import CarFolder

SHEET_WIDTH, _MOST_HEIGHT = 1120.0, 980.0
_MARGIN, _TOP, _FOOT = 84.0, 46.0, 54.0
KEY_HEIGHT = 84.0
_SIZE: dict[Theme, float] = {"page": 11.5, "print": 12.5}
_ARM = 2.6


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
        scale, shift, height = fit_sheet(placed)
        frames = {
            p.panel.panel: Frame(
                placement=p.placement, scale=scale, shift_x=shift[0], shift_y=shift[1]
            )
            for p in placed
        }
        grounds = [
            _ground(folder, reading, p, frames[p.panel.panel], numbered=numbered) for p in placed
        ]
        room = Room((8, 8, SHEET_WIDTH - 8, height - KEY_HEIGHT), [g.outline for g in grounds])
        return cls(theme, grounds, placed, levels_of(reading), room, scale, height)

    def draw(self, name: str, links: Callable[[str], str] | None) -> Node:
        palette, size = PALETTES[self.theme], _SIZE[self.theme]
        pattern = "sheet-doubt"
        words = self._words(palette, size)
        root = svg_root(
            f"Survey of the finish: {name}",
            node("defs", hatch(pattern)),
            width=SHEET_WIDTH,
            height=self.height,
            class_="survey-figure",
            told=_told(self.grounds),
            leads=bool(links),
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
        for ground, placed in zip(self.grounds, self.placed, strict=True):
            nodes += panel_name(ground, placed.panel.substrate, self.room, palette, size)
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
            box = self.room.first_free(outside(shapes, (view,), style), off_panels=True)
            if box is not None:
                nodes.append(label((view,), box, style, palette, class_="view"))
        return nodes

    def _keys(self, palette: Palette, size: float, pattern: str) -> Node:
        y = self.height - KEY_HEIGHT + 22
        rule = f"M24 {number(y - 16)}H{number(SHEET_WIDTH - 24)}"
        keys = node("g", class_="keys")
        keys.add(node("path", d=rule, stroke=palette.rule, stroke_width="1"))
        if self.levels:
            keys.add(colour_bar(self.levels, palette, x=32, y=y, width=330, size=size * 0.95))
        keys.add(scale_bar(self.scale, palette, x=412, y=y, most=190, size=size * 0.95))
        keys.add(legend(palette, x=650, y=y + 6, size=size * 0.95, pattern=pattern))
        return keys


def fit_sheet(placed: tuple[PlacedPanel, ...]) -> tuple[float, tuple[float, float], float]:
    """Scale, shift and height of the drawing so that all panels and their words fit."""
    boxes = [p.bounds_mm for p in placed] or [(0.0, 0.0, 1000.0, 500.0)]
    left, top = min(b[0] for b in boxes), min(b[1] for b in boxes)
    width, tall = max(b[2] for b in boxes) - left, max(b[3] for b in boxes) - top
    space = SHEET_WIDTH - 2 * _MARGIN
    scale = min(space / width, (_MOST_HEIGHT - KEY_HEIGHT - _TOP - _FOOT) / tall)
    shift_x = (SHEET_WIDTH - width * scale) / 2 - left * scale
    shift_y = _TOP - top * scale
    return scale, (shift_x, shift_y), tall * scale + _TOP + _FOOT + KEY_HEIGHT


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
