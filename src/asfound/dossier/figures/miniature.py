"""The car unfolded in a few lines: outlines alone, small enough for a card."""

from __future__ import annotations

from asfound.dossier.figures.frame import rings
from asfound.dossier.figures.layout import PlacedPanel, fitted
from asfound.dossier.figures.svg import node, path, render, svg_root

_WIDTH, _HEIGHT = 320.0, 120.0
_SLACK = 3.0


def miniature_svg(placed: tuple[PlacedPanel, ...]) -> str:
    """Outlines of the panels in their places as SVG; empty for a car without panels.

    The colours are the page's own (class ``miniature``); nobody reads anything off it, so it has
    neither words nor links.
    """
    if not placed:
        return ""
    frames, width, height = fitted(placed, width=_WIDTH, height=_HEIGHT, slack=_SLACK)
    lines = [
        ring
        for frame, one in zip(frames, placed, strict=True)
        for ring in rings(frame.polygon(one.panel.outline))
    ]
    outlines = node("path", d=path(lines, closed=True))
    return render(svg_root("", outlines, width=width, height=height, class_="miniature"))
