"""One panel with the sheet thickness read at each place."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Point, Polygon

from asfound.dossier.figures.alone import (
    KEY_HEIGHT,
    SIZE,
    frame_alone,
    graticule,
    panel_root,
    plain_panel,
    room_alone,
)
from asfound.dossier.figures.frame import Frame
from asfound.dossier.figures.keys import scale_bar
from asfound.dossier.figures.palette import PALETTES, Palette, Theme, tint
from asfound.dossier.figures.room import box_around
from asfound.dossier.figures.svg import Node, node, number, render
from asfound.dossier.figures.words import Style, label, label_box, text
from asfound.measure.metal import CarMetal, Place, SubjectMetal
from asfound.record.convert.film import panel_of
from asfound.record.folder import CarFolder

_RADIUS = 9.0
_SHARES = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
"""Edges of the bands of colour: metal left as a share of the nominal. Below the first and above
the last the colour stays that of the end."""
_BAND = 40.0


def metal_svg(
    folder: CarFolder, metal: CarMetal | None, panel: str, *, theme: Theme = "page"
) -> str:
    """One panel as SVG with a disc at each place: its colour is the share of the sheet left.

    Parameters
    ----------
    folder : CarFolder
    metal : CarMetal or None
        ``None`` where nothing was read yet.
    panel : str
        Name of the panel.
    theme : {"page", "print"}

    Returns
    -------
    str
        The root bears ``data-x0``, ``data-y0`` [mm] and ``data-scale`` [units per mm], as
        :func:`asfound.dossier.figures.panel_svg` has them.

    Raises
    ------
    InputError
        If the car has no such panel.

    Notes
    -----
    The thickness in mm stands beside each disc. A disc with a broken edge is one whose loss does
    not exceed the method's error (95 %); a disc without colour has no nominal to be held against.
    """
    drawn = panel_of(folder, panel)
    frame, height = frame_alone(drawn.outline)
    palette = PALETTES[theme]
    found = _found(metal, panel)
    root = panel_root(panel, f"{panel}: thickness of the sheet", frame, height)
    root.add(graticule(drawn.outline, frame, height, palette))
    root.add(plain_panel(frame.polygon(drawn.outline), palette))
    root.add(*_places(found, frame, height, palette))
    root.add(_keys(found, frame.scale, height, palette))
    return render(root)


def _found(metal: CarMetal | None, panel: str) -> SubjectMetal | None:
    read = metal.subjects if metal else ()
    return next((s for s in read if s.about.kind == "panel" and s.about.subject == panel), None)


def _places(
    found: SubjectMetal | None, frame: Frame, height: float, palette: Palette
) -> Iterator[Node]:
    if found is None:
        return
    room = room_alone(height)
    at = {place: frame.point(place.x_mm, place.y_mm) for place in found.places}
    room.take(*(Point(xy).buffer(_RADIUS + 1) for xy in at.values()))
    for place, (x, y) in at.items():
        yield _disc(x, y, _share(found, place), is_told(found, place), palette)
    style = Style(size=1.15 * SIZE, colour=palette.ink, halo=palette.paper, weight="bold")
    for place, (x, y) in at.items():
        words = (f"{place.last.thickness_mm:.2f}",)
        boxes = list(_beside(x, y, words, style))
        box = room.first_free(boxes) or boxes[0]
        yield label(words, box, style, palette, class_="metal-left")


def _beside(x: float, y: float, words: tuple[str, ...], style: Style) -> Iterator[Polygon]:
    left, top, right, bottom = label_box(words, 0, 0, style).bounds
    w, h = right - left, bottom - top
    dx, dy = w / 2 + _RADIUS + 3, h / 2 + _RADIUS + 2
    for i, j in ((dx, 0), (-dx, 0), (0, -dy), (0, dy), (dx, -dy), (dx, dy), (-dx, -dy), (-dx, dy)):
        yield box_around(x + i, y + j, width=w, height=h)


def _share(found: SubjectMetal, place: Place) -> float | None:
    nominal = found.about.nominal
    return None if nominal is None else place.last.thickness_mm / nominal.thickness_mm


def is_told(found: SubjectMetal, place: Place) -> bool:
    """Whether the loss at a place exceeds the method's error (95 %)."""
    if found.loss is None or found.about.nominal is None:
        return False
    loss_mm = found.about.nominal.thickness_mm - place.last.thickness_mm
    return abs(loss_mm) > found.loss.limit_mm


def _disc(x: float, y: float, share: float | None, told: bool, palette: Palette) -> Node:
    return node(
        "circle",
        cx=x,
        cy=y,
        r=_RADIUS,
        fill="none" if share is None else _colour(share),
        stroke=palette.ink,
        stroke_width="1.2",
        stroke_dasharray=None if told else "3 2",
    )


def _colour(share: float) -> str:
    """Colour of the band that a share falls in, counted from the thinnest."""
    bands = len(_SHARES)
    band = sum(share >= edge for edge in _SHARES)
    return tint(band / bands)


def _keys(found: SubjectMetal | None, scale: float, height: float, palette: Palette) -> Node:
    y, size = height - KEY_HEIGHT + 14, SIZE * 0.88
    keys = node("g", class_="keys")
    keys.add(scale_bar(scale, palette, x=424, y=y, most=150, size=size))
    if found is None:
        return keys
    soft = Style(size=size, colour=palette.soft)
    if found.about.nominal is None:
        return keys.add(text("mm of sheet; not known when new", 40, y, soft, palette))
    keys.add(text("sheet left, % of nominal", 40, y, soft, palette))
    return keys.add(*_bar(40, y + size * 0.9, size, palette))


def _bar(x: float, top: float, size: float, palette: Palette) -> Iterator[Node]:
    bands, style = len(_SHARES) + 1, Style(size=size, colour=palette.ink)
    for index in range(bands):
        at, fill = x + index * _BAND, tint(index / (bands - 1))
        yield node("rect", x=at, y=top, width=_BAND + 0.3, height=size, fill=fill)
    yield node(
        "rect",
        x=x,
        y=top,
        width=bands * _BAND,
        height=size,
        fill="none",
        stroke=palette.ink,
        stroke_width="0.7",
    )
    for index, share in enumerate(_SHARES, start=1):
        at = x + index * _BAND
        yield node("path", d=f"M{number(at)} {number(top + size)}v3", stroke=palette.ink)
        words = f"{share * 100:.0f}"
        yield text(words, at, top + size * 1.95, style, palette, anchor="middle")
