"""The share of original fabric along the days: what is left, and what was signed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.convert.ledger_days import LedgerDay

Point = tuple[date, float]
_WIDTH, _HEIGHT = 420.0, 246.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 46.0, 404.0, 34.0, 206.0
_SIZE, _MARK = 12.0, 3.6
_DAYS_MARKED = 60
"""With more points than these the marks would run into one another; the line tells them."""


def ledger_line_svg(days: Sequence[LedgerDay], *, theme: Theme = "page") -> str:
    """Step line of the share of original fabric as SVG.

    Parameters
    ----------
    days : sequence of LedgerDay
        As ``ledger_days`` gives them, at least one.
    theme : {"page", "print"}

    Notes
    -----
    What is left is a full line with discs; what was signed is dashed with open squares. Between two
    dates nothing is known to have moved, so each line stays level until the next.
    """
    palette = PALETTES[theme]
    words = "Share of original fabric along the days"
    first, length = days[0].day, max((days[-1].day - days[0].day).days, 1)

    def x(day: date) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (day - first).days / length

    root = svg_root(
        words,
        width=_WIDTH,
        height=_HEIGHT,
        class_="ledger-line",
    )
    root.add(*_scale(palette), *_ends(days, palette), *_key(palette))
    left = [(day.day, day.left.original) for day in days]
    signed = [(day.day, day.signed.original) for day in days if day.signed is not None]
    until = days[-1].day
    root.add(*_line(left, until, x, palette, signed=False))
    root.add(*_line(signed, until, x, palette, signed=True))
    return render(root)


def _y(share: float) -> float:
    return _BOTTOM - (_BOTTOM - _TOP) * share


def _scale(palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE, colour=palette.soft)
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        along = f"M{number(_LEFT)} {number(_y(share))}H{number(_RIGHT)}"
        yield node("path", d=along, stroke=palette.rule)
        yield text(f"{share:.0%}", _LEFT - 8, _y(share), style, palette, anchor="end")


def _ends(days: Sequence[LedgerDay], palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE, colour=palette.soft)
    yield text(f"{days[0].day:%-d %b %Y}", _LEFT, _BOTTOM + 20, style, palette)
    if days[-1].day > days[0].day:
        yield text(f"{days[-1].day:%-d %b %Y}", _RIGHT, _BOTTOM + 20, style, palette, anchor="end")


def _key(palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE, colour=palette.ink)
    for at, words, signed in ((_LEFT, "as left", False), (_LEFT + 110, "as signed", True)):
        yield _stroke(f"M{number(at)} 12h26", palette, signed=signed)
        yield _mark(at + 13, 12, palette, signed=signed)
        yield text(words, at + 34, 12, style, palette)


def _line(
    points: Sequence[Point],
    until: date,
    x: Callable[[date], float],
    palette: Palette,
    *,
    signed: bool,
) -> Iterator[Node]:
    if not points:
        return
    (day, share), *rest = points
    d = f"M{number(x(day))} {number(_y(share))}"
    d += "".join(f"H{number(x(day))}V{number(_y(share))}" for day, share in rest)
    yield _stroke(f"{d}H{number(x(until))}", palette, signed=signed)
    if len(points) <= _DAYS_MARKED:
        for day, share in points:
            yield _mark(x(day), _y(share), palette, signed=signed)


def _stroke(d: str, palette: Palette, *, signed: bool) -> Node:
    return node(
        "path",
        d=d,
        fill="none",
        stroke=palette.ink if signed else palette.accent,
        stroke_width=1.4 if signed else 2.4,
        stroke_dasharray="5 4" if signed else None,
    )


def _mark(x: float, y: float, palette: Palette, *, signed: bool) -> Node:
    if not signed:
        return node("circle", cx=x, cy=y, r=_MARK, fill=palette.accent)
    return node(
        "rect",
        x=x - _MARK,
        y=y - _MARK,
        width=2 * _MARK,
        height=2 * _MARK,
        fill=palette.paper,
        stroke=palette.ink,
    )
