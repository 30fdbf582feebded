"""The car unfolded and small, each panel a link: to find a row by its place on the car."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.layout import PlacedPanel, fitted
from asfound.dossier.figures.svg import Node, node, path, render, svg_root

_WIDTH, _HEIGHT = 640.0, 260.0
_SLACK = 4.0


def small_sheet_svg(
    placed: tuple[PlacedPanel, ...], links: Mapping[str, str], *, marked: str = ""
) -> str:
    """Outlines of the panels as SVG, those in ``links`` as links; empty without any of them.

    Parameters
    ----------
    placed : tuple of PlacedPanel
    links : mapping of str to str
        Address by panel; a panel without one is drawn faint.
    marked : str
        The panel that is marked from the start: hatched, with a heavier line.
    """
    if not any(one.panel.panel in links for one in placed):
        return ""
    frames, width, height = fitted(placed, width=_WIDTH, height=_HEIGHT, slack=_SLACK)
    root = svg_root(
        "The panels of the car, each leading to its row",
        node("defs", _hatch()),
        *(_panel(one, frame, links, marked) for frame, one in zip(frames, placed, strict=True)),
        width=width,
        height=height,
        class_="small-sheet",
        leads=True,
    )
    return render(root)


def _panel(one: PlacedPanel, frame: Frame, links: Mapping[str, str], marked: str) -> Node:
    name = one.panel.panel
    drawn = path(rings(frame.polygon(one.panel.outline)), closed=True)
    if name not in links:
        return node("path", d=drawn, class_="small-panel small-panel-none")
    return node(
        "a",
        node("title", name),
        node("path", d=drawn, class_="small-panel"),
        href=links[name],
        aria_label=name,
        data_panel=name,
        class_="marked" if name == marked else None,
    )


def _hatch() -> Node:
    return node(
        "pattern",
        node("path", d="M0 0V6", class_="small-hatch"),
        id="small-hatch",
        width=6,
        height=6,
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )
