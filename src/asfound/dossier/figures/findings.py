"""Findings on a panel, on the unfolded car, and over a photograph."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from asfound.dossier.figures.alone import (
    KEY_HEIGHT,
    SIZE,
    frame_alone,
    graticule,
    panel_root,
    plain_panel,
)
from asfound.dossier.figures.finding_marks import (
    PANEL_RADIUS,
    Disc,
    Numbered,
    disc_nodes,
    discs_in,
    key_nodes,
    outline_nodes,
    places_in,
    settled,
)
from asfound.dossier.figures.frame import rings
from asfound.dossier.figures.ground import PanelGround, unread_ground
from asfound.dossier.figures.keys import scale_bar
from asfound.dossier.figures.layout import unfold
from asfound.dossier.figures.names import panel_name
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.photo_marks import mark_nodes
from asfound.dossier.figures.room import Room
from asfound.dossier.figures.sheet import KEY_HEIGHT as SHEET_KEY_HEIGHT
from asfound.dossier.figures.sheet import SHEET_WIDTH, fit_sheet
from asfound.dossier.figures.svg import Node, node, number, path, render, svg_root
from asfound.record.convert.film import panel_of
from asfound.record.convert.photo_marks import Mark
from asfound.record.folder import CarFolder

_SHEET_RADIUS = 9.5
_PHOTO_WIDE, _PHOTO_RADIUS = 1_000.0, 26.0
_SHEET_SIZE: dict[Theme, float] = {"page": 11.5, "print": 12.5}


def findings_svg(
    folder: CarFolder, panel: str, findings: Sequence[Numbered], *, theme: Theme = "page"
) -> str:
    """One panel as SVG with its findings, and nothing else on it.

    Parameters
    ----------
    folder : CarFolder
    panel : str
        Name of the panel.
    findings : sequence of Numbered
        Those on the panel; one without a place is not drawn.
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
    """
    drawn = panel_of(folder, panel)
    frame, height = frame_alone(drawn.outline)
    palette = PALETTES[theme]
    discs = discs_in(frame, findings, radius=PANEL_RADIUS)
    root = panel_root(panel, f"{panel}: what was found", frame, height, told=_told(discs))
    root.add(graticule(drawn.outline, frame, height, palette))
    root.add(plain_panel(frame.polygon(drawn.outline), palette))
    root.add(*outline_nodes(frame, findings), *disc_nodes(discs, palette))
    y, size = height - KEY_HEIGHT + 14, SIZE * 0.88
    outlined = any(one.finding.outline is not None for one in findings)
    keys = node("g", *key_nodes(palette, x=44, y=y, size=size, outlined=outlined), class_="keys")
    keys.add(scale_bar(frame.scale, palette, x=424, y=y, most=150, size=size))
    return render(root.add(keys))


def findings_sheet_svg(
    folder: CarFolder,
    findings: Sequence[Numbered],
    *,
    links: Callable[[str], str] | None = None,
    theme: Theme = "page",
) -> str:
    """The unfolded car as SVG with every finding that has a place on a panel.

    Parameters
    ----------
    folder : CarFolder
    findings : sequence of Numbered
        On any subject; what is on no panel, or has no place, is not drawn.
    links : callable, optional
        Address to go to for a panel; each panel becomes a link.
    theme : {"page", "print"}
    """
    palette, size = PALETTES[theme], _SHEET_SIZE[theme]
    placed = unfold(folder)
    scale, shift, height = fit_sheet(placed)
    grounds = [unread_ground("findings", p, scale, shift) for p in placed]
    room = Room(
        (8, 8, SHEET_WIDTH - 8, height - SHEET_KEY_HEIGHT), [ground.outline for ground in grounds]
    )
    discs = _on_sheet(grounds, findings)
    room.take_words(*(disc.ground for disc in discs))
    told = f"What was found: {folder.name}"
    root = _root(told, _told(discs), SHEET_WIDTH, height, class_="survey-figure findings-figure")
    root.attributes["role"] = "group" if links else "img"
    root.add(*(_panel(ground, palette, links) for ground in grounds))
    for ground in grounds:
        root.add(*outline_nodes(ground.frame, _of(ground, findings)))
    for ground in grounds:
        root.add(*panel_name(ground, "steel", room, palette, size))
    root.add(*disc_nodes(discs, palette))
    y = height - SHEET_KEY_HEIGHT + 22
    rule = f"M24 {number(y - 16)}H{number(SHEET_WIDTH - 24)}"
    keys = node("g", node("path", d=rule, stroke=palette.rule, stroke_width="1"), class_="keys")
    outlined = any(one.finding.outline is not None for one in findings)
    keys.add(*key_nodes(palette, x=42, y=y + 8, size=size * 0.95, outlined=outlined))
    keys.add(scale_bar(scale, palette, x=540, y=y, most=190, size=size * 0.95))
    return render(root.add(keys))


def photo_findings_svg(
    findings: Sequence[Numbered], *, width_px: int, height_px: int, theme: Theme = "page"
) -> str:
    """Layer with the marks of findings for a photograph of that shape, 1000 units wide.

    Parameters
    ----------
    findings : sequence of Numbered
        Their marks lie over this photograph; one without a mark is not drawn.
    width_px, height_px : int
        Of the picture, upright; only their ratio matters.
    theme : {"page", "print"}

    Returns
    -------
    str
        SVG, or an empty text where no finding is marked.
    """
    marked = [one for one in findings if one.finding.marks]
    if not marked:
        return ""
    high, palette = _PHOTO_WIDE * height_px / width_px, PALETTES[theme]
    places = [(one, _beside(one.finding.marks[0], high)) for one in marked]
    discs = settled(places, radius=_PHOTO_RADIUS)
    words = f"{len(marked)} finding{'' if len(marked) == 1 else 's'} marked over the photograph"
    root = _root(words, _told(discs), _PHOTO_WIDE, high, class_="finding-marks")
    root.attributes["preserveAspectRatio"] = "none"
    for one in marked:
        for mark in one.finding.marks:
            root.add(mark_nodes(mark, high, theme))
    return render(root.add(*disc_nodes(discs, palette)))


def _beside(mark: Mark, high: float) -> tuple[float, float]:
    """Where the number stands: at the upper edge of a ring, otherwise at the mark's first point."""
    points = np.array(mark.points) * (_PHOTO_WIDE, high)
    x, y = (float(v) for v in points[0])
    if mark.kind == "ring":
        x, y = float(points[:, 0].mean()), float(points[:, 1].min())
    edge = 2 * _PHOTO_RADIUS
    return (min(max(x, edge), _PHOTO_WIDE - edge), min(max(y, edge), high - edge))


def _on_sheet(grounds: Sequence[PanelGround], findings: Sequence[Numbered]) -> list[Disc]:
    places = [
        place for ground in grounds for place in places_in(ground.frame, _of(ground, findings))
    ]
    return settled(places, radius=_SHEET_RADIUS)


def _of(ground: PanelGround, findings: Sequence[Numbered]) -> list[Numbered]:
    return [one for one in findings if one.finding.subject == ground.name]


def _panel(ground: PanelGround, palette: Palette, links: Callable[[str], str] | None) -> Node:
    shape = node(
        "path",
        node("title", ground.name),
        d=path(rings(ground.outline), closed=True),
        fill_rule="evenodd",
        fill=palette.paper,
        stroke=palette.ink,
        stroke_width="1",
        stroke_linejoin="round",
    )
    if links is None:
        return shape
    return node("a", shape, href=links(ground.name), class_="panel-link", aria_label=ground.name)


def _root(words: str, told: str, width: float, height: float, *, class_: str) -> Node:
    return svg_root(
        words,
        width=width,
        height=height,
        class_=class_,
        told=told,
    )


def _told(discs: Sequence[Disc]) -> str:
    return ". ".join(disc.says for disc in discs) or "Nothing is marked here"
