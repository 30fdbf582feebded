"""One panel, large, with the number of each spot."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import Polygon

from asfound.dossier.figures.alone import (
    KEY_HEIGHT,
    SIZE,
    frame_alone,
    graticule,
    panel_root,
    room_alone,
)
from asfound.dossier.figures.crowded import mark_crowded
from asfound.dossier.figures.finding_marks import (
    PANEL_RADIUS,
    Numbered,
    disc_nodes,
    discs_in,
    outline_nodes,
)
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
from asfound.dossier.figures.keys import colour_bar, scale_bar
from asfound.dossier.figures.levels import Levels, levels_of
from asfound.dossier.figures.marks import callout, hatch, next_label, spots_of
from asfound.dossier.figures.palette import PALETTES, Palette, Theme, ink_on
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import Node, node, render
from asfound.dossier.figures.words import Style, label, label_box
from asfound.measure.film import FilmReading, Panel
from asfound.record.convert.film import panel_of
from asfound.record.folder import CarFolder

_ARM = 3.2


def panel_svg(
    folder: CarFolder,
    reading: FilmReading | None,
    panel: str,
    *,
    theme: Theme = "page",
    findings: Sequence[Numbered] = (),
) -> str:
    """One panel as SVG, with the film at each spot and the panel's own mm at the edges.

    Parameters
    ----------
    folder : CarFolder
    reading : FilmReading or None
    panel : str
        Name of the panel.
    theme : {"page", "print"}
    findings : sequence of Numbered
        What was found on the panel, marked besides.

    Returns
    -------
    str
        The root bears ``data-x0``, ``data-y0`` [mm] and ``data-scale`` [units per mm]: a point
        (X, Y) of the drawing is x = x0 + X / scale, y = y0 + Y / scale on the panel.

    Raises
    ------
    InputError
        If the car has no such panel.
    """
    drawn = panel_of(folder, panel)
    frame, height = frame_alone(drawn.outline)
    ground = _ground(folder, reading, drawn, frame)
    levels = levels_of(reading)
    palette, pattern = PALETTES[theme], f"{ground.key}-doubt"
    room = room_alone(height, ground.outline)
    discs = discs_in(frame, findings, radius=PANEL_RADIUS)
    room.take_words(*(disc.ground for disc in discs))
    words = _words(ground, levels, room, palette)
    lines, labels = draw_isolines(ground, levels, palette, room, size=SIZE * 0.8)
    mark_crowded([*words, *labels])
    root = panel_root(panel, f"{panel}: film of the finish", frame, height)
    root.add(node("defs", hatch(pattern)), graticule(drawn.outline, frame, height, palette))
    root.add(*draw_ground(ground, levels, palette, pattern=pattern, lines=lines))
    root.add(*draw_marks(ground, arm=_ARM), *outline_nodes(frame, findings))
    root.add(*labels, *words, *disc_nodes(discs, palette))
    root.add(_keys(levels, frame.scale, height, palette))
    return render(root)


def _ground(
    folder: CarFolder, reading: FilmReading | None, drawn: Panel, frame: Frame
) -> PanelGround:
    name = drawn.panel
    panels = reading.panels if reading else ()
    following = reading.next_spots if reading else ()
    return PanelGround(
        name=name,
        key=key_of("panel", name),
        frame=frame,
        outline=frame.polygon(drawn.outline),
        spots=spots_in(frame, spots_of(folder, name)),
        reading=next((p for p in panels if p.panel == name), None),
        next_spots=tuple((n, s) for n, s in enumerate(following, start=1) if s.panel == name),
    )


def _words(ground: PanelGround, levels: Levels | None, room: Room, palette: Palette) -> list[Node]:
    """Numbers of next spots, later work, then the film at each spot where it finds room."""
    take_marks(ground, room, arm=_ARM)
    nodes = [next_label(x, y, str(n), room, palette, SIZE) for n, x, y in next_points(ground)]
    reading = ground.reading
    if reading is None or levels is None or not ground.is_read:
        return nodes if len(ground.spots) else [*nodes, _no_readings(ground, palette)]
    for outline, kind, p in ground.later_work:
        nodes += callout(outline, kind, p, room, palette, size=SIZE)
    for spot in sorted(reading.spots, key=lambda s: (-s.p_later_work, s.spot)):
        colour = levels.colour_at(spot.thickness_um)
        style = Style(size=SIZE * 0.84, colour=ink_on(colour), halo=colour)
        x, y = ground.frame.point(spot.x_mm, spot.y_mm)
        number_words = (f"{spot.thickness_um:.0f}",)
        box = room.first_free(_near(x, y, number_words, style))
        if box is not None:
            nodes.append(label(number_words, box, style, palette, class_="spot-film"))
    return nodes


def _near(x: float, y: float, words: tuple[str, ...], style: Style) -> list[Polygon]:
    left, top, right, bottom = label_box(words, 0, 0, style).bounds
    w, h = right - left, bottom - top
    dx, dy = w / 2 + _ARM + 2, h / 2 + _ARM + 2
    beside = [(dx, 0), (-dx, 0), (0, -dy), (0, dy), (dx, -dy), (dx, dy), (-dx, -dy), (-dx, dy)]
    return [box_around(x + i, y + j, width=w, height=h) for i, j in beside]


def _no_readings(ground: PanelGround, palette: Palette) -> Node:
    style = Style(size=SIZE, colour=palette.soft, slant="italic")
    middle = ground.outline.representative_point()
    box = label_box(("no readings",), middle.x, middle.y, style)
    return label(("no readings",), box, style, palette)


def _keys(levels: Levels | None, scale: float, height: float, palette: Palette) -> Node:
    y = height - KEY_HEIGHT + 14
    keys = node("g", class_="keys")
    if levels:
        keys.add(colour_bar(levels, palette, x=40, y=y, width=310, size=SIZE * 0.88))
    return keys.add(scale_bar(scale, palette, x=424, y=y, most=150, size=SIZE * 0.88))
