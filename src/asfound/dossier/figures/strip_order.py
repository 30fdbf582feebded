"""What holds or hides what, as a graph from what comes off first to what comes off last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.strip_layers import Layers, Spot, lay_out
from asfound.dossier.figures.strip_piece import Address, name_node, ties_of, words_for
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion

_TOP, _SIDE, _FOOT = 40.0, 14.0, 34.0
_SIZE = 13.0
_BETWEEN = 64.0
_MOST_WIDTH = 230.0


def strip_svg(
    question: StripQuestion,
    *,
    way: Way | None = None,
    only: Sequence[str] = (),
    address: Address | None = None,
    theme: Theme = "page",
) -> str:
    """Graph of the joints as SVG; columns from left to right in the order of coming off.

    Parameters
    ----------
    question : StripQuestion
    way : Way or None
        The way to one piece; it and its pieces stand out.
    only : sequence of str
        Pieces that are drawn, in an order in which they come off; empty for all.
    address : callable, optional
        Gives the address behind a piece's name; names lead nowhere without it.
    theme : {"page", "print"}

    Notes
    -----
    A line leads from a piece to what it holds or hides. Lines that follow from others are left
    out; a dashed line is one way among several. A piece marked (2) wants two people, one marked
    ! a caution. The same order stands as a list in ``asfound strip``.
    """
    palette = PALETTES[theme]
    drawn = list(dict.fromkeys(only)) or question.assembly.sequence
    layers = lay_out(drawn, ties_of(question))
    lefts, width = _columns(question, layers)
    height = _TOP + layers.height + _FOOT
    root = svg_root(
        "What comes off before what",
        width=width,
        height=height,
        class_="strip-order",
        sized=True,
        leads=address is not None,
    )
    lit = {way.piece, *way.first_off} if way else set()
    lines = node("g", fill="none", stroke=palette.rule, stroke_width=1.2)
    over = node("g", fill="none", stroke=palette.accent, stroke_width=2)
    for tie, spots in layers.lines:
        (over if {tie.first, tie.after} <= lit else lines).add(
            _curve(question, spots, lefts, dashed=tie.optional)
        )
    root.add(lines, over, *_heads(lefts, palette))
    for column in layers.columns:
        for spot in column:
            if spot.name:
                root.add(_name(question, spot, lefts, palette, lit, way, address))
    return render(root.add(_key(height, palette)))


def _words(question: StripQuestion, name: str) -> str:
    return words_for(question, name, size=_SIZE, most=_MOST_WIDTH)


def _columns(question: StripQuestion, layers: Layers) -> tuple[list[float], float]:
    """Left edge of each column, and the width of the whole."""
    lefts, x = [], _SIDE
    for column in layers.columns:
        lefts.append(x)
        widths = [width_of(_words(question, s.name), size=_SIZE) for s in column if s.name]
        x += max(widths, default=0.0) + _BETWEEN
    return lefts, x - _BETWEEN + _SIDE


def _curve(
    question: StripQuestion, spots: tuple[Spot, ...], lefts: list[float], *, dashed: bool
) -> Node:
    def end(spot: Spot) -> float:
        words = _words(question, spot.name) if spot.name else ""
        return lefts[spot.column] + (width_of(words, size=_SIZE) + 4 if words else 0.0)

    x, y = end(spots[0]), _TOP + spots[0].y
    data = [f"M{number(x)} {number(y)}"]
    for spot in spots[1:]:
        to_x, to_y = lefts[spot.column] - 5, _TOP + spot.y
        middle = max(to_x - _BETWEEN / 2, (x + to_x) / 2)
        data.append(
            f"H{number(max(x, to_x - _BETWEEN + 8))}"
            f"C{number(middle)} {number(y)} {number(middle)} {number(to_y)} "
            f"{number(to_x)} {number(to_y)}"
        )
        x, y = to_x, to_y
    return node("path", d="".join(data), stroke_dasharray="4 4" if dashed else None)


def _heads(lefts: list[float], palette: Palette) -> Iterator[Node]:
    style = Style(size=_SIZE * 0.85, colour=palette.soft)
    for place, left in enumerate(lefts):
        words = "comes off at once" if not place else f"then, {place + 1}"
        yield text(words, left, _TOP / 2, style, palette)


def _name(
    question: StripQuestion,
    spot: Spot,
    lefts: list[float],
    palette: Palette,
    lit: set[str],
    way: Way | None,
    address: Address | None,
) -> Node:
    aim = way is not None and spot.name == way.piece
    style = Style(
        size=_SIZE,
        colour=palette.accent if spot.name in lit else palette.ink,
        halo=palette.paper,
        weight="700" if aim else None,
    )
    return name_node(
        question,
        spot.name,
        (lefts[spot.column], _TOP + spot.y),
        words=_words(question, spot.name),
        style=style,
        palette=palette,
        address=address,
    )


def _key(height: float, palette: Palette) -> Node:
    words = (
        "Line: holds or hides what it leads to. Dashed: one way of several. "
        "(2): two people. !: take care."
    )
    style = Style(size=_SIZE * 0.85, colour=palette.soft)
    return text(words, _SIDE, height - _FOOT / 2, style, palette)
