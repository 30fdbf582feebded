"""Evidence for and against as a balance: each item moves the beam to one side by its weight."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from asfound.dossier.figures.balance_bar import WIDTH, Scale, bar, end_mark
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.results.colour_words import lr_figure
from asfound.weigh.evidence import Weighed, WeighedItem

_SIZE, _LINE, _BAR, _GAP = 12.0, 15.0, 13.0, 9.0
_HEAD, _FOOT = 40.0, 26.0
_ALL_NAMED = 3
"""With more decades than these every second tick bears its ratio."""
_TICKS = (-6, -4, -3, -2, -1, 0, 1, 2, 3, 4, 6)


def balance_svg(weighed: Weighed, *, theme: Theme = "page") -> str:
    """A weighed claim as SVG: items to the right speak for the statement, to the left against it.

    Parameters
    ----------
    weighed : Weighed
    theme : {"page", "print"}

    Notes
    -----
    Lengths are logarithms of ratios, so that bars add as ratios multiply; each begins where the
    one before it ended. For the statement a bar is full, against it striped, set aside dashed and
    begun in the middle. What lies beyond a million stands at the edge with an open end.
    """
    palette = PALETTES[theme]
    scale = Scale.of([0.0, *_sums(weighed)])
    rows, y = list[Node](), _HEAD
    at = 0.0
    for item in weighed.items:
        rows += _row(item, at, y, scale, palette)
        at += math.log10(item.counts_lr)
        y += _height(item)
    body, foot = _together(weighed, y, scale, palette), y + 2 * _LINE + _BAR
    words = f"{weighed.claim.subject}: {weighed.words}"
    root = svg_root(
        words,
        width=WIDTH,
        height=foot + _FOOT,
        class_="balance",
    )
    root.add(*_ground(scale, foot, palette), *_heads(weighed, palette), *rows, *body)
    return render(root)


def _sums(weighed: Weighed) -> Iterator[float]:
    total = 0.0
    for item in weighed.items:
        total += math.log10(item.counts_lr)
        yield total
        if item.set_aside:
            yield math.log10(item.item.lr)


def _ground(scale: Scale, foot: float, palette: Palette) -> Iterator[Node]:
    """The neutral band, the edges of the bands of the scale, and their ratios."""
    left, right = scale.x(-math.log10(2)), scale.x(math.log10(2))
    height = foot - _HEAD + 6
    yield node(
        "rect",
        x=left,
        y=_HEAD - 6,
        width=right - left,
        height=height,
        fill=palette.rule,
        fill_opacity="0.45",
    )
    style = Style(size=_SIZE * 0.82, colour=palette.soft)
    for tick in _TICKS:
        if abs(tick) > scale.most:
            continue
        x, middle = scale.x(tick), tick == 0
        yield node(
            "path",
            d=f"M{number(x)} {number(_HEAD - 6)}v{number(height)}",
            stroke=palette.ink if middle else palette.rule,
            stroke_width=1.2 if middle else 1,
        )
        if abs(tick) % 2 == 0 or scale.most <= _ALL_NAMED:
            yield text(_power(tick), x, foot + 13, style, palette, anchor="middle")


def _power(tick: int) -> str:
    ratio = f"{10 ** abs(tick):,}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    return f"1/{ratio}" if tick < 0 else ratio


def _heads(weighed: Weighed, palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE, colour=palette.ink, weight="600")
    claim = weighed.claim
    yield text(f"← {claim.alternative}", 4, 12, style, palette)
    yield text(f"{claim.statement} →", WIDTH - 4, 26, style, palette, anchor="end")


def _row(item: WeighedItem, at: float, y: float, scale: Scale, palette: Palette) -> Iterator[Node]:
    colour = palette.soft if item.set_aside else palette.ink
    style = Style(size=_SIZE, colour=colour, halo=palette.paper)
    lines = _wrapped(_told(item))
    for line in lines:
        yield text(line, 4, y + _LINE / 2, style, palette)
        y += _LINE
    weight = math.log10(item.item.lr if item.set_aside else item.counts_lr)
    start = 0.0 if item.set_aside else at
    yield from bar(start, start + weight, y, scale, palette, aside=bool(item.set_aside))


def _told(item: WeighedItem) -> str:
    ratio = lr_figure(item.item.lr if item.set_aside else item.counts_lr)
    told = f"{item.item.item}: {ratio}"
    if item.is_capped:
        told += f" (by eye {lr_figure(item.item.lr)}, capped)"
    return f"{told}, set aside" if item.set_aside else told


def _height(item: WeighedItem) -> float:
    return len(_wrapped(_told(item))) * _LINE + _BAR + _GAP


def _together(weighed: Weighed, y: float, scale: Scale, palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE, colour=palette.ink, weight="600", halo=palette.paper)
    yield text(f"Together {lr_figure(weighed.lr)}", 4, y + _LINE / 2, style, palette)
    total = math.log10(weighed.lr)
    yield from end_mark(total, y + _LINE + _BAR / 2, scale, palette)


def _wrapped(words: str) -> Sequence[str]:
    """Words in lines that the drawing holds; a word longer than a line is cut."""
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width_of(longer, size=_SIZE, spaced=0.0) > WIDTH - 8:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def lean_svg(weighed: Weighed) -> str:
    """To which side a claim leans and how far, as a strip beside its words.

    The words stand beside it, so it is hidden from who hears the page.
    """
    palette, scale = PALETTES["page"], Scale(most=6.0)
    y, height = 3.0, 19.0
    root = svg_root("", width=WIDTH, height=height, class_="lean")
    left, right = scale.x(-math.log10(2)), scale.x(math.log10(2))
    root.add(
        node("rect", x=left, y=0, width=right - left, height=height, fill=palette.rule),
        node("path", d=f"M{number(scale.x(0))} 0v{number(height)}", stroke=palette.ink),
        *bar(0.0, math.log10(weighed.lr), y, scale, palette),
    )
    return render(root)
