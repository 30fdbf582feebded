"""One wedge: how high the film stands above its floor, parted off by passes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from asfound.dossier.figures.levels import Levels
from asfound.dossier.figures.palette import TINT_INK, TINT_PAPER, Palette, ink_on
from asfound.dossier.figures.svg import Node, node, number, path

HALF = 13.0
"""Half of the width of a wedge [drawing units]."""
_LEAST_STEP = 4.0
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedge:
    """A wedge that stands on its spot, or hangs from it where the spot is below the floor.

    Parameters
    ----------
    x, y : float
        The spot [drawing units]; the floor lies at ``y``.
    scale : float
        Drawing units a µm.
    over_um, u95_um : float
        Film above the floor, and the half-width of its 95 % interval.
    pass_um : float or None
        What one pass takes; ``None`` where it is not known.
    """

    x: float
    y: float
    scale: float
    over_um: float
    u95_um: float
    pass_um: float | None

    @property
    def height(self) -> float:
        """Height of the steep side; negative where it hangs."""
        return self.over_um * self.scale

    @property
    def outline(self) -> Polygon:
        """The triangle: steep on the left, running out to the floor on the right."""
        left, right = self.x - HALF, self.x + HALF
        return Polygon([(left, self.y), (left, self.y - self.height), (right, self.y)])


def step_passes(pass_um: float, *, scale: float) -> int:
    """Passes between two lines across a wedge, so that the lines stay apart."""
    return next((n for n in _STEPS if n * pass_um * scale >= _LEAST_STEP), _STEPS[-1])


def draw_wedge(wedge: Wedge, levels: Levels, pattern: str, palette: Palette) -> list[Node]:
    """The wedge with its lines across, its floor, and the doubt of its height."""
    corners = np.asarray(wedge.outline.exterior.coords)[:-1]
    d = path([corners], closed=True)
    edge = {"stroke": TINT_INK, "stroke_width": "0.9", "stroke_linejoin": "round"}
    if wedge.over_um <= 0:
        under = node("path", d=d, fill=TINT_PAPER, stroke="none")
        hung = node("path", d=d, fill=f"url(#{pattern})", class_="below-floor", **edge)
        return [under, hung, *_floor(wedge, palette)]
    colour = levels.colour_at(wedge.over_um)
    body = node("path", d=d, fill=colour, class_="wedge", **edge)
    lines = _lines(wedge)
    across = [node("path", d=lines, stroke=ink_on(colour), stroke_width="0.6")] if lines else []
    return [body, *across, *_floor(wedge, palette)]


def _lines(wedge: Wedge) -> str:
    """Lines across the wedge, counted from its top: what passes leave."""
    if not wedge.pass_um:
        return ""
    step = step_passes(wedge.pass_um, scale=wedge.scale) * wedge.pass_um
    d = ""
    left_um = wedge.over_um - step
    while left_um > 0:
        y = wedge.y - left_um * wedge.scale
        width = 2 * HALF * (1 - left_um / wedge.over_um)
        d += f"M{number(wedge.x - HALF)} {number(y)}h{number(width)}"
        left_um -= step
    return d


def _floor(wedge: Wedge, palette: Palette) -> list[Node]:
    """The floor, and upright beside the steep side the 95 % interval of the height."""
    ground = f"M{number(wedge.x - HALF - 4)} {number(wedge.y)}h{number(2 * HALF + 8)}"
    x = wedge.x - HALF - 3
    low, high = (wedge.y - (wedge.over_um + k * wedge.u95_um) * wedge.scale for k in (-1, 1))
    caps = "".join(f"M{number(x - 2)} {number(y)}h4" for y in (low, high))
    bar = f"M{number(x)} {number(low)}V{number(high)}{caps}"
    return [
        node("path", d=ground, stroke=palette.ink, stroke_width="1.8"),
        node("path", d=bar, stroke=palette.paper, stroke_width="2.6"),
        node("path", d=bar, stroke=palette.ink, stroke_width="0.9"),
    ]
