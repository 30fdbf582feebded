"""The front of choices: what is kept against what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import numpy as np

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import Room, box_around
from asfound.dossier.figures.svg import Node, node, number, path, render, svg_root
from asfound.dossier.figures.words import Style, label, label_box, text

_WIDTH, _HEIGHT = 620.0, 340.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 62.0, 28.0, 28.0, 54.0
_SIZE = 12.5


class Kept(Protocol):
    """A choice by what it keeps (0–1) and what it costs."""

    @property
    def kept(self) -> float:
        """Share of the original fabric kept."""

    @property
    def cost(self) -> float:
        """Cost in the car's currency."""


def front_svg(
    points: Sequence[Kept],
    chosen: Kept | None,
    *,
    cost_max: float | None,
    currency: str,
    theme: Theme = "page",
) -> str:
    """What is kept against what it costs, as SVG.

    Parameters
    ----------
    points : sequence
        The front: each has ``kept`` (0–1) and ``cost``; none is bettered by another.
    chosen : object or None
        The choice at hand, marked.
    cost_max : float or None
        The brief's limit, drawn as a line.
    currency : str
        Name of the unit of cost; may be empty.
    theme : {"page", "print"}
    """
    palette = PALETTES[theme]
    everything = [*points, *([chosen] if chosen else [])]
    costs = [p.cost for p in everything] + ([cost_max] if cost_max is not None else [])
    axes = _Axes(costs or [0.0, 1.0], [p.kept for p in everything] or [0.0, 1.0])
    root = svg_root(
        "What is kept against what it costs",
        width=_WIDTH,
        height=_HEIGHT,
        class_="front-figure",
    )
    root.add(*axes.draw(currency, palette))
    room = Room((0, 0, _WIDTH, _HEIGHT - _BOTTOM))
    if cost_max is not None:
        root.add(*_limit(axes.x(cost_max), room, palette))
    root.add(*_points(points, axes, room, palette))
    if chosen:
        root.add(*_chosen(chosen, axes, room, palette))
    return render(root)


class _Axes:
    """Round axes that hold all costs and shares."""

    def __init__(self, costs: list[float], shares: list[float]) -> None:
        self.costs = _round_axis(min(costs), max(costs), most=7)
        self.shares = _round_axis(min(shares), max(shares), most=6, upper=1.0)

    def x(self, cost: float) -> float:
        low, high = self.costs[0], self.costs[-1]
        return _LEFT + (cost - low) / (high - low) * (_WIDTH - _LEFT - _RIGHT)

    def y(self, share: float) -> float:
        low, high = self.shares[0], self.shares[-1]
        return _HEIGHT - _BOTTOM - (share - low) / (high - low) * (_HEIGHT - _TOP - _BOTTOM)

    def draw(self, currency: str, palette: Palette) -> list[Node]:
        style = Style(size=_SIZE * 0.88, colour=palette.ink)
        soft = Style(size=_SIZE * 0.92, colour=palette.soft, slant="italic")
        nodes: list[Node] = []
        for cost in self.costs:
            x = self.x(cost)
            d = f"M{number(x)} {number(_HEIGHT - _BOTTOM)}v5"
            nodes.append(node("path", d=d, stroke=palette.ink))
            y = _HEIGHT - _BOTTOM + 15
            nodes.append(
                text(f"{cost:,.0f}".replace(",", " "), x, y, style, palette, anchor="middle")
            )
        for share in self.shares:
            y = self.y(share)
            d = f"M{number(_LEFT)} {number(y)}H{number(_WIDTH - _RIGHT)}"
            nodes.append(node("path", d=d, stroke=palette.rule, stroke_width="0.8"))
            nodes.append(text(f"{share * 100:g} %", _LEFT - 8, y, style, palette, anchor="end"))
        base = f"M{number(_LEFT)} {number(_HEIGHT - _BOTTOM)}H{number(_WIDTH - _RIGHT)}"
        nodes.append(node("path", d=base, stroke=palette.ink))
        cost_words = f"cost, {currency}" if currency else "cost"
        nodes.append(text("original fabric kept", 8, 12, soft, palette))
        nodes.append(text(cost_words, _WIDTH - _RIGHT, _HEIGHT - 10, soft, palette, anchor="end"))
        return nodes


def _round_axis(low: float, high: float, *, most: int, upper: float | None = None) -> list[float]:
    """Round numbers that enclose ``low`` and ``high``."""
    span = max(high - low, abs(high) * 0.05, 1e-3 if upper else 1.0)
    magnitude = 10.0 ** np.floor(np.log10(span / most))
    step = next(m * magnitude for m in (1, 2, 2.5, 5, 10) if span / (m * magnitude) <= most)
    first, last = np.floor(low / step + 1e-9), np.ceil(high / step - 1e-9)
    if last == first:
        last += 1
    if upper is not None and last * step > upper + 1e-9:
        first, last = first - 1, last - 1
    return [round(float(step * k), 9) for k in range(int(first), int(last) + 1)]


def _limit(x: float, room: Room, palette: Palette) -> list[Node]:
    d = f"M{number(x)} {number(_TOP)}V{number(_HEIGHT - _BOTTOM)}"
    line = node("path", d=d, stroke=palette.ink, stroke_width="1.1")
    line.attributes["stroke-dasharray"] = "2 3"
    style = Style(size=_SIZE * 0.92, colour=palette.ink, slant="italic", halo=palette.paper)
    width = label_box(("the brief's limit",), 0, 0, style).bounds[2]
    middle = min(max(x, width + 10), _WIDTH - width - 10)
    box = label_box(("the brief's limit",), middle, _TOP - 10, style)
    room.take_words(box)
    return [line, label(("the brief's limit",), box, style, palette)]


def _points(points: Sequence[Kept], axes: _Axes, room: Room, palette: Palette) -> list[Node]:
    """Dots joined by steps: between two of them nothing cheaper keeps more."""
    if not points:
        return []
    places = [(axes.x(p.cost), axes.y(p.kept)) for p in sorted(points, key=lambda p: p.cost)]
    steps = [places[0]]
    for x, y in places[1:]:
        steps += [(x, steps[-1][1]), (x, y)]
    room.take(*(box_around(x, y, width=9, height=9) for x, y in places))
    line = node("path", d=path([np.array(steps)], closed=False), fill="none", stroke=palette.soft)
    dots = [
        node(
            "circle",
            class_="front-dot",
            cx=x,
            cy=y,
            r="3.1",
            fill=palette.paper,
            stroke=palette.ink,
        )
        for x, y in places
    ]
    return [line, *dots]


def _chosen(chosen: Kept, axes: _Axes, room: Room, palette: Palette) -> list[Node]:
    x, y = axes.x(chosen.cost), axes.y(chosen.kept)
    style = Style(size=_SIZE, colour=palette.ink, weight="bold", halo=palette.paper)
    words = (f"chosen: keeps {chosen.kept:.1%}".replace("%", " %"),)
    w = label_box(words, 0, 0, style).bounds[2]
    offsets = ((-w - 12, -14), (w + 12, 16), (-w - 12, 18), (0, 26), (0, -24), (w + 12, -14))
    boxes = [label_box(words, x + dx, y + dy, style) for dx, dy in offsets]
    box = room.first_free(boxes) or boxes[0]
    ring = node("circle", cx=x, cy=y, r="7.5", fill="none", stroke=palette.accent)
    ring.attributes["stroke-width"] = "2"
    dot = node("circle", cx=x, cy=y, r="3.4", fill=palette.accent)
    return [ring, dot, label(words, box, style, palette)]
