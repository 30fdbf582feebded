"""The order of events as boxes: later above earlier, nothing drawn that follows from the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.strata_rows import Place, rows_of
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.weigh.dates import Order

_BOX, _BETWEEN, _RISE = 148.0, 22.0, 40.0
_LINE, _PAD, _SIZE = 16.0, 9.0, 13.0
_EDGE = 4.0
MOST_BOXES = 80
"""A piece with more is not drawn: nobody would read it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strata:
    """One connected piece of the order, drawn.

    Parameters
    ----------
    title : str
        Its topmost events.
    svg : str
        Empty where there are more boxes than ``MOST_BOXES``.
    boxes_n : int
    width : float
        Of the drawing at its natural size [px].
    """

    title: str
    svg: str
    boxes_n: int
    width: float


def strata(
    order: Order, *, clashing: frozenset[str] = frozenset(), theme: Theme = "page"
) -> tuple[Strata, ...]:
    """Drawing of each connected piece of an order, the largest first.

    Parameters
    ----------
    order : Order
    clashing : frozenset of str
        Events that stand in a clash; their boxes are dashed and say so.
    theme : {"page", "print"}
    """
    pieces = sorted(_pieces(order), key=lambda piece: (-len(piece), piece[0]))
    return tuple(_drawn(order, piece, clashing, PALETTES[theme]) for piece in pieces)


def _pieces(order: Order) -> Iterator[tuple[int, ...]]:
    near: dict[int, set[int]] = {group: set() for group in range(len(order.groups))}
    for later, earlier in order.over:
        near[later].add(earlier)
        near[earlier].add(later)
    seen = set[int]()
    for root in near:
        piece, waiting = set[int](), [] if root in seen else [root]
        while waiting:
            group = waiting.pop()
            if group not in piece:
                piece.add(group)
                waiting.extend(near[group])
        seen |= piece
        if piece:
            yield tuple(sorted(piece))


def _drawn(
    order: Order, piece: Sequence[int], clashing: frozenset[str], palette: Palette
) -> Strata:
    if len(piece) > MOST_BOXES:
        return Strata(title=f"{len(piece)} events", svg="", boxes_n=len(piece), width=0.0)
    words = {group: _lines(order.groups[group], clashing) for group in piece}
    tall = max(len(lines) for lines in words.values()) * _LINE + 2 * _PAD
    rows, ways = rows_of(order, piece)
    width = max(len(row) for row in rows) * (_BOX + _BETWEEN) - _BETWEEN + 2 * _EDGE
    height = len(rows) * (tall + _RISE) - _RISE + 2 * _EDGE
    at = {
        place: (
            width / 2 + (turn - (len(row) - 1) / 2) * (_BOX + _BETWEEN),
            _EDGE + (len(rows) - 1 - level) * (tall + _RISE) + tall / 2,
        )
        for level, row in enumerate(rows)
        for turn, place in enumerate(row)
    }
    top = [name for place in rows[-1] if place.is_group for name in order.groups[place.group]]
    title = f"Below {', '.join(top)}"
    root = svg_root(
        f"{title}: later above earlier",
        width=width,
        height=height,
        class_="strata",
        sized=True,
    )
    root.add(*(_way(way, at, tall, palette) for way in ways))
    for place, (x, y) in at.items():
        if place.is_group:
            clash = any(name in clashing for name in order.groups[place.group])
            root.add(*_boxed(words[place.group], x, y, tall, palette, clash=clash))
    return Strata(title=title, svg=render(root), boxes_n=len(piece), width=width)


def _way(
    way: Sequence[Place], at: dict[Place, tuple[float, float]], tall: float, palette: Palette
) -> Node:
    """Line from an earlier box up to a later one, past the rows between them."""
    pieces = [f"M{number(at[way[0]][0])} {number(at[way[0]][1] - tall / 2)}"]
    for lower, upper in pairwise(way):
        (x0, y0), (x1, y1) = at[lower], at[upper]
        y0, y1 = y0 - tall / 2, y1 + tall / 2
        middle = number((y0 + y1) / 2)
        pieces.append(f"C{number(x0)} {middle} {number(x1)} {middle} {number(x1)} {number(y1)}")
        if not upper.is_group:
            pieces.append(f"V{number(y1 - tall)}")
    return node("path", d="".join(pieces), stroke=palette.ink, stroke_width=1.4, fill="none")


def _boxed(
    lines: Sequence[str], x: float, y: float, tall: float, palette: Palette, *, clash: bool
) -> Iterator[Node]:
    yield node(
        "rect",
        x=x - _BOX / 2,
        y=y - tall / 2,
        width=_BOX,
        height=tall,
        rx=2,
        fill=palette.paper,
        stroke=palette.ink if clash else palette.accent,
        stroke_width=1.4,
        stroke_dasharray="5 3" if clash else None,
    )
    first = y - (len(lines) - 1) * _LINE / 2
    for turn, line in enumerate(lines):
        slant = "italic" if line == "clash" else None
        style = Style(size=_SIZE, colour=palette.ink, slant=slant)
        yield text(line, x, first + turn * _LINE, style, palette, anchor="middle")


def _lines(events: Sequence[str], clashing: frozenset[str]) -> tuple[str, ...]:
    """Names of a group broken to the width of a box, and whether it is in a clash."""
    lines: list[str] = []
    for event in events:
        line = ""
        for word in event.split():
            longer = f"{line} {word}".strip()
            if line and width_of(longer, size=_SIZE) > _BOX - 2 * _PAD:
                lines.append(line)
                longer = word
            line = longer
        lines.append(line)
    return (*lines, "clash") if clashing & set(events) else tuple(lines)
