"""Pieces one under the other with a rail from each to what it holds: narrow, for a phone."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.strip_layers import Tie
from asfound.dossier.figures.strip_piece import Address, name_node, shortened, words_for
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.convert.strip import StripQuestion

WIDTH = 328.0
_SIZE, _SMALL = 14.0, 11.5
_ROW, _ROW_TOLD, _LANE = 30.0, 44.0, 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rail:
    """From one piece down to all that it holds."""

    first: str
    after: tuple[tuple[str, bool], ...]
    lane: int


def strip_rails_svg(
    question: StripQuestion,
    names: Sequence[str],
    *,
    ties: Sequence[Tie],
    aim: str = "",
    lit: Collection[str] = (),
    address: Address | None = None,
    theme: Theme = "page",
    title: str,
) -> str:
    """Some pieces of a car in an order in which they come off, as a narrow SVG.

    Parameters
    ----------
    question : StripQuestion
    names : sequence of str
        In an order in which they come off; they are drawn each soon after what holds it.
    ties : sequence of Tie
        Those that count in that order; see ``needed``.
    aim : str
        A piece that stands out.
    lit : collection of str
        Pieces on the way to it; they stand out too.
    address : callable, optional
        Gives the address behind a piece's name.
    theme : {"page", "print"}
    title : str

    Notes
    -----
    A full dot can come off now. What holds a piece and is not among ``names`` stands under it.
    """
    palette = PALETTES[theme]
    order = down_the_rails(names, ties)
    others = {n: _others(question, n, ties, set(order)) for n in order}
    middles, height = _middles(order, others)
    rails = _rails(order, [t for t in ties if {t.first, t.after} <= set(order)])
    left = 12 + _LANE * (1 + max((rail.lane for rail in rails), default=-1))
    root = svg_root(
        title,
        width=WIDTH,
        height=height,
        class_="strip-rails",
        sized=True,
        leads=address is not None,
    )
    lines = node("g", fill="none", stroke=palette.soft, stroke_width=1.3)
    for rail in rails:
        lines.add(*_drawn(rail, left - 8 - _LANE * (rail.lane + 1), left, middles))
    root.add(lines)
    now = set(next(iter(question.waves), ()))
    for name in order:
        y = middles[name]
        root.add(_dot(left, y, palette, full=name in now))
        style = Style(
            size=_SIZE,
            colour=palette.accent if name in now or name == aim or name in lit else palette.ink,
            weight="700" if name == aim or name in lit else None,
        )
        words = words_for(question, name, size=_SIZE, most=WIDTH - left - 12)
        at = (left + 9, y)
        root.add(
            name_node(
                question, name, at, words=words, style=style, palette=palette, address=address
            )
        )
        if others[name]:
            told = shortened(others[name], size=_SMALL, most=WIDTH - left - 10)
            soft = Style(size=_SMALL, colour=palette.soft)
            root.add(text(told, left + 9, y + 15, soft, palette))
    return render(root)


def down_the_rails(names: Sequence[str], ties: Sequence[Tie]) -> list[str]:
    """Names so that each stands soon after what holds it, for rails to be short."""
    among = set(names)
    waits = {n: {t.first for t in ties if t.after == n and t.first in among} for n in among}
    holds: dict[str, list[str]] = {n: [] for n in among}
    for tie in ties:
        if {tie.first, tie.after} <= among:
            holds[tie.first].append(tie.after)
    ready = [name for name in reversed(names) if not waits[name]]
    found = []
    while ready:
        name = ready.pop()
        found.append(name)
        for after in holds[name]:
            waits[after].discard(name)
            if not waits[after] and after not in found and after not in ready:
                ready.append(after)
    return found


def _others(question: StripQuestion, name: str, ties: Sequence[Tie], among: set[str]) -> str:
    """What else holds the piece, in words."""
    held = [
        question.removals[t.first].name
        for t in ties
        if t.after == name and t.first not in among | question.off
    ]
    return f"after {', '.join(dict.fromkeys(held))}" if held else ""


def _middles(order: Sequence[str], others: Mapping[str, str]) -> tuple[dict[str, float], float]:
    middles, y = {}, 4.0
    for name in order:
        middles[name] = y + _ROW / 2
        y += _ROW_TOLD if others[name] else _ROW
    return middles, y + 4


def _rails(order: Sequence[str], ties: Sequence[Tie]) -> list[_Rail]:
    """A rail for each piece that holds others, short ones nearest to the names."""
    row = {name: i for i, name in enumerate(order)}
    held: dict[str, dict[str, bool]] = {}
    for tie in ties:
        held.setdefault(tie.first, {})[tie.after] = tie.optional
    spans = {first: (row[first], max(row[a] for a in after)) for first, after in held.items()}
    taken: list[list[tuple[int, int]]] = []
    found = []
    for first in sorted(spans, key=lambda n: (spans[n][1] - spans[n][0], spans[n])):
        start, end = spans[first]
        lane = next((i for i, t in enumerate(taken) if _is_free(t, start, end)), len(taken))
        taken[lane : lane + 1] = [[*(taken[lane] if lane < len(taken) else ()), (start, end)]]
        found.append(_Rail(first=first, after=tuple(held[first].items()), lane=lane))
    return found


def _is_free(taken: Sequence[tuple[int, int]], start: int, end: int) -> bool:
    return all(end <= one or other <= start for one, other in taken)


def _drawn(rail: _Rail, x: float, left: float, middles: Mapping[str, float]) -> list[Node]:
    """The rail, and a branch to each piece that it leads to."""
    top = middles[rail.first]
    ys = sorted(middles[name] for name, _ in rail.after)
    found = [
        node("path", d=f"M{number(left)} {number(top)}H{number(x + 4)}q-4 0 -4 4V{number(y - 4)}")
        for y in ys[-1:]
    ]
    for name, dashed in rail.after:
        y = middles[name]
        found.append(
            node(
                "path",
                d=f"M{number(x)} {number(y - 4)}q0 4 4 4H{number(left)}",
                stroke_dasharray="3 3" if dashed else None,
            )
        )
    return found


def _dot(x: float, y: float, palette: Palette, *, full: bool) -> Node:
    return node(
        "circle",
        cx=x,
        cy=y,
        r=3.6,
        fill=palette.accent if full else palette.paper,
        stroke=palette.accent if full else palette.ink,
        stroke_width=1.4,
    )
