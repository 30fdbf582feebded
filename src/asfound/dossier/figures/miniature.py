"""The car unfolded in a few lines: outlines alone, small enough for a card."""

from __future__ import annotations

from functools import partial

from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.layout import PlacedPanel
from asfound.dossier.figures.svg import NAMESPACE, node, path, render

_WIDTH, _HEIGHT = 320.0, 120.0
_SLACK = 3.0


def miniature_svg(placed: tuple[PlacedPanel, ...]) -> str:
    """Outlines of the panels in their places as SVG; empty for a car without panels.

    The colours are the page's own (class ``miniature``); nobody reads anything off it, so it has
    neither words nor links.
    """
    if not placed:
        return ""
    boxes = [one.bounds_mm for one in placed]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    width = max(box[2] for box in boxes) - left
    height = max(box[3] for box in boxes) - top
    scale = min((_WIDTH - 2 * _SLACK) / width, (_HEIGHT - 2 * _SLACK) / height)
    frame = partial(Frame, scale=scale, shift_x=_SLACK - left * scale, shift_y=_SLACK - top * scale)
    outlines = [frame(placement=one.placement).polygon(one.panel.outline) for one in placed]
    lines = [ring for outline in outlines for ring in rings(outline)]
    box = (0, 0, width * scale + 2 * _SLACK, height * scale + 2 * _SLACK)
    drawing = node(
        "svg",
        node("path", d=path(lines, closed=True)),
        xmlns=NAMESPACE,
        viewBox=" ".join(f"{value:.0f}" for value in box),
        class_="miniature",
        aria_hidden="true",
    )
    return render(drawing)
