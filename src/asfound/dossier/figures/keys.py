"""What the drawing's marks mean: colour bar, scale bar, legend."""

from __future__ import annotations

import numpy as np
import shapely

from asfound.dossier.figures.crowded import ROOMY
from asfound.dossier.figures.levels import Levels
from asfound.dossier.figures.marks import area_outline, next_mark, spot_marks
from asfound.dossier.figures.palette import Palette, tint
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number
from asfound.dossier.figures.words import Style, text

_ROUND_MM = (1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0)
_ON_A_PHONE = 1.6
"""So many times as large are words beside a drawing that is shrunk to a phone."""
_MARKS = (
    ("spot", "spot measured"),
    ("next", "measure here next"),
    ("later", "suspected later work, with its probability"),
    ("doubt", "film known no better than ± 50 % (95 %)"),
)


def colour_bar(
    levels: Levels,
    palette: Palette,
    *,
    x: float,
    y: float,
    width: float,
    size: float,
    words: str = "film thickness, µm",
) -> Node:
    """Bands of film thickness with their edges in µm, under what they are."""
    style = Style(size=size, colour=palette.ink)
    band = width / levels.bands_n
    bar = node("g", class_="colour-bar")
    bar.add(text(words, x, y, Style(size=size, colour=palette.soft), palette))
    top = y + size * 0.9
    for index in range(levels.bands_n):
        bar.add(
            node(
                "rect",
                x=x + index * band,
                y=top,
                width=band + 0.3,
                height=size,
                fill=levels.colour(index),
            )
        )
    bar.add(_frame(x, top, width, size, palette))
    for edge in _labelled_edges(levels, band, size):
        at = x + edge * band
        number_words = f"{levels.edges_um[edge]:g}"
        if levels.saturated and edge == levels.bands_n - 1:
            number_words = f"≥ {number_words}"
        bar.add(node("path", d=f"M{number(at)} {number(top + size)}v3", stroke=palette.ink))
        bar.add(text(number_words, at, top + size * 1.95, style, palette, anchor="middle"))
    return bar


def _labelled_edges(levels: Levels, band: float, size: float) -> list[int]:
    """Edges that bear a number: all, or every even one where they would touch."""
    last = levels.bands_n - 1 if levels.saturated else levels.bands_n
    widest = max(width_of(f"≥ {edge:g}", size=size) for edge in levels.edges_um)
    if widest + size * 0.5 < band:
        return list(range(last + 1))
    even = [k for k in range(last + 1) if round(levels.edges_um[k] / levels.step_um) % 2 == 0]
    return [*(k for k in even if k < last - 1), last] if levels.saturated else even


def _frame(x: float, y: float, width: float, height: float, palette: Palette) -> Node:
    return node(
        "rect",
        x=x,
        y=y,
        width=width,
        height=height,
        fill="none",
        stroke=palette.ink,
        stroke_width="0.7",
    )


def scale_bar(
    scale: float, palette: Palette, *, x: float, y: float, most: float, size: float
) -> Node:
    """Bar of a round length in two halves, one open and one filled."""
    length_mm = next((mm for mm in _ROUND_MM if mm * scale <= most), _ROUND_MM[-1])
    width, top = length_mm * scale, y + size * 0.9 + size * 0.5
    style = Style(size=size, colour=palette.ink)
    bar = node("g", class_="scale-bar")
    bar.add(text("scale, mm", x, y, Style(size=size, colour=palette.soft), palette))
    bar.add(_frame(x, top, width, size * 0.5, palette))
    half = node("rect", x=x, y=top, width=width / 2, height=size * 0.5, fill=palette.ink)
    bar.add(half)
    for share in (0.0, 0.5, 1.0):
        at = x + share * width
        words = f"{share * length_mm:g}"
        said = text(words, at, top + size * 1.45, style, palette, anchor="middle")
        if share == 0.5 and width_of(words, size=_ON_A_PHONE * size) > width / 2 - size * 0.6:
            said.attributes["class"] = ROOMY
        bar.add(said)
    return bar


def legend(
    palette: Palette, *, x: float, y: float, size: float, pattern: str, columns: int = 2
) -> Node:
    """What the marks mean, in columns."""
    style = Style(size=size, colour=palette.ink)
    group = node("g", class_="legend")
    rows = -(-len(_MARKS) // columns)
    for index, (kind, words) in enumerate(_MARKS):
        column, row = divmod(index, rows)
        before = _MARKS[:rows]
        step = max(width_of(w, size=size) for _, w in before) + 3.6 * size
        left, middle = x + column * step, y + row * size * 1.75
        group.add(*_sample(kind, left, middle, size, pattern))
        group.add(text(words, left + 2.2 * size, middle, style, palette))
    return group


def _sample(kind: str, x: float, y: float, size: float, pattern: str) -> list[Node]:
    swatch: dict[str, str | float] = {
        "x": x,
        "y": y - size * 0.6,
        "width": size * 1.6,
        "height": size * 1.2,
        "fill": tint(0.12),
    }
    if kind == "spot":
        return [node("rect", **swatch), *spot_marks(np.array([[x + size * 0.8, y]]), arm=2.4)]
    if kind == "next":
        return [node("rect", **swatch), *next_mark(x + size * 0.8, y, arm=size * 0.32)]
    if kind == "later":
        left, top, width, height = x, y - size * 0.6, size * 1.6, size * 1.2
        edge = shapely.box(left, top, left + width, top + height)
        return [node("rect", **swatch), *area_outline(edge)]
    return [node("rect", **swatch), node("rect", **{**swatch, "fill": f"url(#{pattern})"})]
