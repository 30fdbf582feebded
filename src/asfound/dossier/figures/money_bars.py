"""Bars of an account: what was done and bought, what is ordered, what remains, by group."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.plan.money import Figures

MOST_BARS = 24
"""The table has the rest: a longer drawing is read no better than it."""
_WIDTH, _EDGE, _BAR, _ROW = 380.0, 2.0, 11.0, 36.0
_SIZE, _STRIPE, _KEY = 11.5, 4.0, 40.0
_MARK = 4.0


def money_svg(
    rows: Sequence[tuple[str, Figures]],
    *,
    digits: int,
    currency: str,
    by: str = "piece",
    most: int = MOST_BARS,
    theme: Theme = "page",
) -> str:
    """Account as bars, the first ``most`` rows of it; empty without any.

    Notes
    -----
    A bar is full for actual, striped for ordered, open for what remains; its end is the forecast.
    A heavy upright stroke marks the estimate.
    """
    shown = rows[:most]
    longest = max((max(f.forecast, f.estimate) for _, f in shown), default=Decimal(0))
    if longest <= 0:
        return ""
    palette = PALETTES[theme]
    scale = (_WIDTH - 2 * _EDGE - _MARK) / float(longest)
    height = _KEY + _ROW * len(shown)
    root = svg_root(
        f"The account by {by}: actual, ordered, remaining, and the estimate",
        width=_WIDTH,
        height=height,
        class_="money-bars",
        sized=True,
    )
    root.add(*_key(palette))
    for place, (name, figures) in enumerate(shown):
        told = f"{figures.forecast:,.{digits}f} {currency}".replace(",", "\N{NO-BREAK SPACE}")
        root.add(*_row(name, told, figures, _KEY + place * _ROW, scale, palette))
    return render(root)


def _row(
    name: str, told: str, figures: Figures, y: float, scale: float, palette: Palette
) -> Iterator[Node]:
    room = _WIDTH - 2 * _EDGE - width_of(told, size=_SIZE) - 10
    ink = Style(size=_SIZE, colour=palette.ink)
    yield text(_short(name, room), _EDGE, y + 8, ink, palette)
    soft = Style(size=_SIZE, colour=palette.soft)
    yield text(told, _WIDTH - _EDGE, y + 8, soft, palette, anchor="end")
    x, top = _EDGE, y + 17
    yield node("path", d=f"M{_EDGE} {number(top + _BAR)}H{_WIDTH - _EDGE}", stroke=palette.rule)
    for kind in ("actual", "committed", "remaining"):
        width = max(float(getattr(figures, kind)), 0.0) * scale
        if width > 0:
            yield from _piece(kind, x, top, width, palette)
        x += width
    if figures.estimate > 0:
        yield _estimate(_EDGE + float(figures.estimate) * scale, top, palette)


def _piece(kind: str, x: float, y: float, width: float, palette: Palette) -> Iterator[Node]:
    yield node(
        "rect",
        x=x,
        y=y,
        width=width,
        height=_BAR,
        fill=palette.accent if kind == "actual" else palette.paper,
        stroke=palette.accent,
        stroke_width=1.2,
        stroke_dasharray="3 3" if kind == "remaining" else None,
    )
    if kind == "committed":
        count = int(width / _STRIPE)
        strokes = "".join(
            f"M{number(x + _STRIPE * (k + 0.5))} {number(y)}v{number(_BAR)}" for k in range(count)
        )
        yield node("path", d=strokes or "M0 0", stroke=palette.accent, stroke_width=1.6)


def _estimate(x: float, y: float, palette: Palette) -> Node:
    return node(
        "path", d=f"M{number(x)} {number(y - 3)}v{number(_BAR + 6)}", stroke=palette.ink,
        stroke_width=3,
    )  # fmt: skip


def _key(palette: Palette) -> Iterator[Node]:
    soft, x, y = Style(size=_SIZE, colour=palette.soft), _EDGE, 8.0
    named = (
        ("actual", "done and bought"),
        ("committed", "ordered"),
        ("remaining", "remains"),
        ("estimate", "estimate"),
    )
    for kind, words in named:
        if kind == "estimate":
            yield _estimate(x + 4, y, palette)
            at = x + 14
        else:
            yield from _piece(kind, x, y, 20, palette)
            at = x + 25
        yield text(words, at, y + _BAR / 2, soft, palette)
        x = at + width_of(words, size=_SIZE) + 12


def _short(words: str, room: float) -> str:
    while width_of(words, size=_SIZE) > room and len(words) > 2:
        words = words[:-2].rstrip() + "…"
    return words
