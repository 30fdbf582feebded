"""One event on the timeline."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number
from asfound.dossier.figures.words import Style, text
from asfound.weigh.dates import Dated

_HALF = 6.5
"""Half the height of a bar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """An event and where it lies on the drawing."""

    dated: Dated
    y: float
    scale: Callable[[int], float]
    left: float
    right: float
    doubted: bool

    @property
    def shown(self) -> tuple[int | None, int | None]:
        """Days that the bar reaches between: what is left, or what is said where that clashes."""
        dated = self.dated
        if dated.holds:
            return dated.first, dated.last
        return dated.said_first, dated.said_last

    @property
    def ends(self) -> tuple[float, float]:
        """Where the bar begins and ends; at the edges of the drawing where it is open."""
        first, last = self.shown
        x0 = self.left if first is None else self.scale(first)
        return x0, self.right if last is None else self.scale(last + 1)

    @property
    def anchor(self) -> float:
        """Where a line to the bar ends: the likely middle, or the middle of what is drawn."""
        if self.dated.likely is not None:
            return self.scale(self.dated.likely.p50)
        return sum(self.ends) / 2


def hatch(shape: str, palette: Palette) -> Node:
    """Hatching of clashes; its name tells it from that of another drawing on the page."""
    return node(
        "defs",
        node(
            "pattern",
            node("path", d="M-1 7L7 -1M3 11L11 3", stroke=palette.ink, stroke_width=1.3),
            id=f"clash-{shape}",
            width=8,
            height=8,
            patternUnits="userSpaceOnUse",
        ),
    )


def bar_nodes(bar: Bar, palette: Palette, size: float, shape: str) -> Iterator[Node]:
    """Bar of an event between the edges of the drawing."""
    first, last = bar.shown
    yield from _said(bar, palette)
    if first is None and last is None:
        words = "open on both sides" if bar.dated.holds else "open, and part of a clash"
        yield _word(words, (bar.left + bar.right) / 2, bar, palette, size)
        return
    x0, x1 = bar.ends
    yield _box(x0, x1, bar.y, palette, dashed=bar.doubted, fill=_fill(bar, palette, shape))
    if first is None or last is None:
        edge = bar.left if first is None else bar.right
        yield _arrow(edge, bar.y, palette, left=first is None)
    yield from _likely(bar, palette)
    if not bar.dated.holds or bar.doubted:
        words = "set aside" if bar.dated.holds else "clash"
        at, anchor = _beside(x0, x1, bar)
        if anchor == "middle":
            yield _plate(words, at, bar.y, palette, size)
        yield _word(words, at, bar, palette, size, anchor=anchor)


def _plate(words: str, x: float, y: float, palette: Palette, size: float) -> Node:
    """Ground under a word that stands on a hatched bar."""
    wide = width_of(words, size=size) + 6
    plate = {"x": x - wide / 2, "y": y - _HALF + 1, "width": wide, "height": 2 * _HALF - 2}
    return node("rect", **plate, fill=palette.paper)


def _beside(x0: float, x1: float, bar: Bar) -> tuple[float, str]:
    """Where a word about the bar has room: after it, before it, or on it."""
    if x1 + 70 < bar.right:
        return x1 + 6, "start"
    return (x0 - 6, "end") if x0 - 70 > bar.left else ((x0 + x1) / 2, "middle")


def _fill(bar: Bar, palette: Palette, shape: str) -> str:
    return palette.paper if bar.dated.holds else f"url(#clash-{shape})"


def _said(bar: Bar, palette: Palette) -> Iterator[Node]:
    first, last = bar.dated.said_first, bar.dated.said_last
    if first is None and last is None:
        return
    x0 = bar.left if first is None else bar.scale(first)
    x1 = bar.right if last is None else bar.scale(last + 1)
    ends = "".join(
        f"M{number(x)} {number(bar.y - 4)}v8"
        for x, day in ((x0, first), (x1, last))
        if day is not None
    )
    yield node(
        "path",
        d=f"M{number(x0)} {number(bar.y)}H{number(x1)}{ends}",
        stroke=palette.soft,
        stroke_width=1.2,
        stroke_dasharray="2 3" if bar.doubted else None,
        fill="none",
    )


def _box(x0: float, x1: float, y: float, palette: Palette, *, dashed: bool, fill: str) -> Node:
    clash = fill.startswith("url")
    return node(
        "rect",
        x=x0,
        y=y - _HALF,
        width=max(x1 - x0, 4.0),
        height=2 * _HALF,
        rx=2,
        fill=fill if clash else palette.accent,
        fill_opacity=None if clash else "0.22",
        stroke=palette.ink if clash else palette.accent,
        stroke_width=1.1,
        stroke_dasharray="4 3" if dashed else None,
    )


def _arrow(x: float, y: float, palette: Palette, *, left: bool) -> Node:
    tip, half = -8 if left else 8, _HALF + 2
    return node(
        "path",
        d=f"M{number(x)} {number(y - half)}l{tip} {number(half)}l{-tip} {number(half)}z",
        fill=palette.accent,
    )


def _likely(bar: Bar, palette: Palette) -> Iterator[Node]:
    likely = bar.dated.likely
    if likely is None:
        return
    x0, x1 = bar.scale(likely.p05), bar.scale(likely.p95 + 1)
    yield node(
        "rect",
        x=x0,
        y=bar.y - _HALF + 2,
        width=max(x1 - x0, 2.5),
        height=2 * _HALF - 4,
        fill=palette.accent,
    )
    middle = bar.scale(likely.p50)
    if x1 - x0 > 8:
        notch = f"M{number(middle)} {number(bar.y - _HALF + 2)}v{number(2 * _HALF - 4)}"
        yield node("path", d=notch, stroke=palette.paper, stroke_width=2)


def _word(
    words: str, x: float, bar: Bar, palette: Palette, size: float, *, anchor: str = "middle"
) -> Node:
    style = Style(size=size * 0.88, colour=palette.ink, slant="italic", halo=palette.paper)
    return text(words, x, bar.y, style, palette, anchor=anchor)  # type: ignore[arg-type]  # one of three words


def key_nodes(y: float, left: float, palette: Palette, size: float, shape: str) -> Iterator[Node]:
    """What the marks mean, below the bars."""
    style = Style(size=size * 0.86, colour=palette.soft)
    entries = (
        ("said", "as stated"),
        ("left", "what all of it together leaves"),
        ("likely", "nine in ten histories, notch: the middle"),
        ("clash", "clash"),
    )
    places = (
        ((0, 0), (1, 0), (0, 1), (1, 1)) if shape == "wide" else ((0, 0), (0, 1), (0, 2), (1, 0))
    )
    across = 200.0 if shape == "narrow" else 150.0
    for (kind, words), (column, row) in zip(entries, places, strict=True):
        x = left + column * across * (1.0 if shape == "narrow" else 2.1)
        at = y + row * 20
        yield _mark(kind, x, at, palette, shape)
        yield text(words, x + 40, at, style, palette)


def _mark(kind: str, x: float, y: float, palette: Palette, shape: str) -> Node:
    if kind == "said":
        ends = f"M{number(x)} {number(y - 4)}v8M{number(x + 30)} {number(y - 4)}v8"
        line = f"M{number(x)} {number(y)}h30{ends}"
        return node("path", d=line, stroke=palette.soft, stroke_width=1.2, fill="none")
    if kind == "likely":
        return node(
            "g",
            node("rect", x=x, y=y - 4.5, width=30, height=9, fill=palette.accent),
            node(
                "path",
                d=f"M{number(x + 15)} {number(y - 4.5)}v9",
                stroke=palette.paper,
                stroke_width=2,
            ),
        )
    fill = f"url(#clash-{shape})" if kind == "clash" else palette.paper
    return _box(x, x + 30, y, palette, dashed=False, fill=fill)
