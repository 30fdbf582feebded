"""What polishing may still take: a wedge at each spot of a panel, above its floor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from asfound.dossier.figures.alone import (
    KEY_HEIGHT,
    SIZE,
    frame_alone,
    graticule,
    panel_root,
    room_alone,
)
from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.ground import key_of
from asfound.dossier.figures.keys import colour_bar, scale_bar
from asfound.dossier.figures.levels import Levels, levels_between
from asfound.dossier.figures.marks import hatch, led_label, spot_marks
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import Node, node, path, render
from asfound.dossier.figures.wedge_shape import HALF, Wedge, draw_wedge, step_passes
from asfound.dossier.figures.words import Style, label, label_box, text
from asfound.measure.polish import AreaBudget, PolishResult, SpotBudget
from asfound.record.convert.film import panel_of
from asfound.record.folder import CarFolder

_TALLEST = 46.0
_LEAST_TOP_UM = 20.0
_ROW = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """A spot with its place on the drawing."""

    area: AreaBudget
    budget: SpotBudget
    x: float
    y: float

    @property
    def is_thinnest(self) -> bool:
        """Whether its area is thinnest here."""
        return self.budget is self.area.spots[0]


def wedge_svg(folder: CarFolder, result: PolishResult, panel: str, *, theme: Theme = "page") -> str:
    """One panel as SVG with a wedge at each spot: its height is the film above the floor.

    Parameters
    ----------
    folder : CarFolder
    result : PolishResult
    panel : str
        Name of a panel that was polished or has a floor.
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
    Lines across a wedge part off passes at the mean rate; the number of passes that may follow
    is smaller, for it carries the doubt. A spot below its floor hangs, hatched.
    """
    drawn = panel_of(folder, panel)
    frame, height = frame_alone(drawn.outline)
    areas = [a for a in result.areas if a.panel == panel]
    spots = _placed(areas, frame)
    palette, pattern = PALETTES[theme], f"{key_of('wedge', panel)}-below"
    levels = _levels(spots)
    words = f"{panel}: film above the floor at each spot"
    root = panel_root(panel, words, frame, height + 2 * _ROW)
    shape = path(rings(frame.polygon(drawn.outline)), closed=True)
    root.add(node("defs", hatch(pattern)), graticule(drawn.outline, frame, height, palette))
    root.add(node("path", d=shape, fill_rule="evenodd", fill=palette.paper, stroke=palette.ink))
    root.add(*_wedges(spots, levels, palette, pattern, height))
    return render(root.add(_keys(areas, levels, frame.scale, height, palette)))


def _placed(areas: list[AreaBudget], frame: Frame) -> list[_Placed]:
    """Spots that have a place, those at the back of the drawing first."""
    found = []
    for area in areas:
        for budget in area.spots:
            at = budget.present
            if at.x_mm is not None and at.y_mm is not None:
                x, y = frame.point(at.x_mm, at.y_mm)
                found.append(_Placed(area=area, budget=budget, x=x, y=y))
    return sorted(found, key=lambda s: (s.y, s.x))


def _levels(spots: list[_Placed]) -> Levels:
    over = [s.budget.over_floor_um.value for s in spots if s.budget.over_floor_um]
    high = max([_LEAST_TOP_UM, *over])
    return levels_between(low_um=0.0, high_um=high, cap_um=high)


def _wedges(
    spots: list[_Placed], levels: Levels, palette: Palette, pattern: str, height: float
) -> list[Node]:
    """Wedges, then their numbers, the thinnest places first so that they find room."""
    room = room_alone(height)
    drawn: list[Node] = []
    for spot in spots:
        wedge = _wedge(spot, levels)
        room.take(wedge.outline if wedge else box_around(spot.x, spot.y, width=8, height=8))
        drawn += draw_wedge(wedge, levels, pattern, palette) if wedge else _bare(spot)
    for spot in sorted(spots, key=lambda s: (not s.is_thinnest, _over(s), s.budget.present.spot)):
        drawn += _words(spot, levels, room, palette)
    return drawn


def _over(spot: _Placed) -> float:
    over = spot.budget.over_floor_um
    return over.value if over else 0.0


def _wedge(spot: _Placed, levels: Levels) -> Wedge | None:
    over = spot.budget.over_floor_um
    if over is None:
        return None
    first = next((p for p in spot.area.processes if p.removal.told_apart), None)
    return Wedge(
        x=spot.x,
        y=spot.y,
        scale=_TALLEST / levels.edges_um[-1],
        over_um=over.value,
        u95_um=over.expanded(coverage=0.95),
        pass_um=first.removal.per_pass_um.value if first else None,
    )


def _bare(spot: _Placed) -> list[Node]:
    return spot_marks(np.array([[spot.x, spot.y]]), arm=3.2)


def _words(spot: _Placed, levels: Levels, room: Room, palette: Palette) -> list[Node]:
    """The film over the floor with its doubt; the thinnest spot of an area says so in words."""
    over = spot.budget.over_floor_um
    if over is None:
        figures = f"{spot.budget.present.film_um.value:.0f}, no floor"
    else:
        u95 = over.expanded(coverage=0.95)
        figures = f"{over.value:.0f} ± {u95:.0f}".replace("-", "\N{MINUS SIGN}")
    thin = spot.is_thinnest and over is not None
    where = f"thinnest of {spot.area.area}" if spot.area.area else "thinnest"
    lines = (where, figures) if thin else (figures,)
    style = Style(
        size=SIZE * 0.84,
        colour=palette.ink,
        halo=palette.paper,
        weight="bold" if thin else None,
    )
    top = spot.y - max(_over(spot), 0) * _TALLEST / levels.edges_um[-1]
    box = room.first_free(_near(spot, top, lines, style))
    if box is not None:
        return [label(lines, box, style, palette, class_="wedge-words")]
    if not thin:
        return []
    shape = box_around(spot.x, (spot.y + top) / 2, width=2 * HALF, height=abs(spot.y - top) + 4)
    return led_label(shape, lines, style, room, palette, class_="wedge-words")


def _near(spot: _Placed, top: float, lines: tuple[str, ...], style: Style) -> list[Polygon]:
    left, up, right, down = label_box(lines, 0, 0, style).bounds
    w, h = right - left, down - up
    dx, middle = HALF + 3 + w / 2, (spot.y + top) / 2
    places = [
        (spot.x, spot.y + h / 2 + 2),
        (spot.x + dx, middle),
        (spot.x - dx, middle),
        (spot.x, top - h / 2 - 4),
        (spot.x + dx, spot.y + h / 2),
        (spot.x - dx, spot.y + h / 2),
        (spot.x + dx, top - h / 2),
        (spot.x - dx, top - h / 2),
    ]
    return [box_around(x, y, width=w, height=h) for x, y in places]


def _keys(
    areas: list[AreaBudget], levels: Levels, scale: float, height: float, palette: Palette
) -> Node:
    y, size = height - KEY_HEIGHT + 14, SIZE * 0.88
    keys = node("g", class_="keys")
    words = "height and colour: film above the floor, µm"
    keys.add(colour_bar(levels, palette, x=40, y=y, width=310, size=size, words=words))
    keys.add(scale_bar(scale, palette, x=424, y=y, most=150, size=size))
    style = Style(size=size, colour=palette.soft, slant="italic")
    for row, said in enumerate(_lines_words(areas, levels)):
        keys.add(text(said, 40, height + 4 + row * _ROW, style, palette))
    return keys


def _lines_words(areas: list[AreaBudget], levels: Levels) -> list[str]:
    """What the lines across the wedges mean, and how sure the floors are."""
    told = next((p for a in areas for p in a.processes if p.removal.told_apart), None)
    guessed = [a.area or "the panel" for a in areas if a.floor and a.floor.floor.basis == "guess"]
    said = ["Hatched: below the floor."]
    if told:
        rate = told.removal.per_pass_um.value
        passes = step_passes(rate, scale=_TALLEST / levels.edges_um[-1])
        each = "a pass" if passes == 1 else f"{passes} passes"
        said.insert(0, f"Lines across: {each} at the mean rate.")
    told_once = [" ".join(said)]
    return [*told_once, f"A guess: the floor of {', '.join(guessed)}."] if guessed else told_once
