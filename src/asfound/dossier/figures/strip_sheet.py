"""A whole car as it comes apart: assemblies by wave, each folded to counts or opened to names."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.strip_bands import (
    CELL,
    HEAD,
    LABEL,
    SIZE,
    Band,
    Bands,
    lay_bands,
    named,
)
from asfound.dossier.figures.strip_layers import Spot, Tie
from asfound.dossier.figures.strip_piece import Address, name_node, shortened
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion

_TITLE = "What comes off before what, by assembly and wave"
_SIDE, _FOOT = 8.0, 30.0
_LEAST_WIDTH = 780.0
"""Room for the key."""
_SMALL = SIZE * 0.85


def strip_sheet_svg(
    question: StripQuestion,
    *,
    is_open: Callable[[str], bool],
    address: Address | None = None,
    fold: Address | None = None,
    way: Way | None = None,
    theme: Theme = "page",
) -> str:
    """Assemblies from top to bottom, waves from left to right, as SVG.

    Parameters
    ----------
    question : StripQuestion
    is_open : callable
        Whether an assembly is drawn with its pieces' names; folded, with how many there are.
    address : callable, optional
        Gives the address behind a piece's name.
    fold : callable, optional
        Gives the address that opens or folds an assembly.
    way : Way, optional
        The way to one piece; it and its pieces stand out, and all other lines are faint.
    theme : {"page", "print"}

    Notes
    -----
    The first wave can come off now, the second once the first is off, and so on. A line leads
    from a piece to what it holds or hides; lines that follow from others are left out; a dashed
    line is one way among several. The same stands as a table on the page.
    """
    palette = PALETTES[theme]
    bands = lay_bands(question, is_open=is_open)
    width, height = max(bands.lefts[-1] + _SIDE, _LEAST_WIDTH), bands.height + _FOOT
    root = svg_root(
        _TITLE,
        width=width,
        height=height,
        class_="strip-order",
        sized=True,
        leads=address is not None,
    )
    lit = _Lit(way=way)
    root.add(*_rules(bands, palette), *_across(bands, palette, lit))
    for band in bands.bands:
        root.add(node("g", *_band(question, bands, band, palette, lit, address=address)))
    root.add(_labels(bands, palette, fold=fold), _head(bands, palette))
    return render(root.add(_key(height, palette)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lit:
    """What stands out."""

    way: Way | None

    def has(self, *names: str) -> bool:
        """Whether all of these are on the way."""
        return self.way is not None and {self.way.piece, *self.way.first_off}.issuperset(names)

    def lines(self, colour: str, palette: Palette) -> tuple[Node, Node]:
        """Groups for lines that do not stand out, and for those that do."""
        faint = colour if self.way is None else palette.rule
        return (
            node("g", fill="none", stroke=faint, stroke_width=1.2),
            node("g", fill="none", stroke=palette.accent, stroke_width=2.2),
        )


def _head(bands: Bands, palette: Palette) -> Node:
    """Numbers of the waves; they stay in sight."""
    style = Style(size=_SMALL, colour=palette.soft)
    group = node("g", data_stays="y")
    group.add(node("rect", width=bands.lefts[-1], height=HEAD - 1, fill=palette.paper))
    for place, left in enumerate(bands.lefts[:-1]):
        words = "now" if not place else f"{place + 1}"
        group.add(text(words, left + 3, HEAD / 2, style, palette))
    return group


def _labels(bands: Bands, palette: Palette, *, fold: Address | None) -> Node:
    """Names of the assemblies; they stay in sight."""
    group = node("g", data_stays="x")
    tall = bands.height - HEAD
    group.add(node("rect", y=HEAD, width=LABEL - 6, height=tall, fill=palette.paper))
    for band in bands.bands:
        label = node("g", *_label(band, palette, fold=fold))
        group.add(node("a", label, href=fold(band.name)) if fold else label)
    return group


def _rules(bands: Bands, palette: Palette) -> Iterator[Node]:
    right = bands.lefts[-1]
    for y in [band.top for band in bands.bands] + [bands.height]:
        yield node("path", d=f"M0 {number(y)}H{number(right)}", stroke=palette.rule, fill="none")


def _across(bands: Bands, palette: Palette, lit: _Lit) -> Iterator[Node]:
    """Lines between assemblies, one where several would lie on each other."""
    drawn: dict[tuple[tuple[float, ...], tuple[float, ...], bool], bool] = {}
    for tie in bands.across:
        if bands.wave[tie.first] < bands.wave[tie.after]:
            ends = (bands.ends[tie.first][1:], bands.ends[tie.after][::2], tie.optional)
            drawn[ends] = drawn.get(ends, False) or lit.has(tie.first, tie.after)
    lines, over = lit.lines(palette.rule, palette)
    for ((x, y), (to_x, to_y), dashed), stands_out in drawn.items():
        line = _line([(x + 3, y), (to_x - 5, to_y)], dashed=dashed)
        (over if stands_out else lines).add(line)
    yield from (lines, over)


def _line(points: list[tuple[float, float]], *, dashed: bool) -> Node:
    """Curve through points from left to right, level at each."""
    data = [f"M{number(points[0][0])} {number(points[0][1])}"]
    for (x, y), (to_x, to_y) in pairwise(points):
        turn = max(x, to_x - 34)
        middle = (turn + to_x) / 2
        data.append(
            f"H{number(turn)}C{number(middle)} {number(y)} {number(middle)} {number(to_y)} "
            f"{number(to_x)} {number(to_y)}"
        )
    return node("path", d="".join(data), stroke_dasharray="4 4" if dashed else None)


def _band(
    question: StripQuestion,
    bands: Bands,
    band: Band,
    palette: Palette,
    lit: _Lit,
    *,
    address: Address | None,
) -> Iterator[Node]:
    if band.layers is None:
        yield from _cells(bands, band, palette)
        return
    lines, over = lit.lines(palette.soft, palette)
    for tie, spots in band.layers.lines:
        (over if lit.has(tie.first, tie.after) else lines).add(_through(bands, band, tie, spots))
    yield from (lines, over)
    for name in band.pieces:
        left, _, y = bands.ends[name]
        stands_out, aim = lit.has(name), lit.way is not None and name == lit.way.piece
        accent = stands_out or (lit.way is None and bands.wave[name] == 0)
        style = Style(
            size=SIZE,
            colour=palette.accent if accent else palette.ink if lit.way is None else palette.soft,
            halo=palette.paper,
            weight="700" if stands_out else None,
        )
        yield name_node(
            question,
            name,
            (left, y),
            words=named(question, name),
            style=style,
            palette=palette,
            address=address,
            chosen=aim,
        )


def _through(bands: Bands, band: Band, tie: Tie, spots: tuple[Spot, ...]) -> Node:
    assert band.layers is not None
    down = band.top + (band.height - band.layers.height) / 2
    points = [(bands.ends[tie.first][1] + 3, bands.ends[tie.first][2])]
    points += [(bands.lefts[s.column] - 5, down + s.y) for s in spots[1:-1]]
    points.append((bands.ends[tie.after][0] - 5, bands.ends[tie.after][2]))
    return _line(points, dashed=tie.optional)


def _label(band: Band, palette: Palette, *, fold: Address | None) -> Iterator[Node]:
    """Name of the assembly, whether it is open, what can come off now, what it waits for."""
    y = band.top + 17
    turned = "l8 0l-4 7z" if band.layers else "l0 8l7 -4z"
    if fold:
        yield node("path", d=f"M2 {number(y - 3.5)}{turned}", fill=palette.accent)
    bold = Style(size=SIZE, colour=palette.accent if fold else palette.ink, weight="700")
    words = shortened(band.name, size=SIZE * 1.06, most=LABEL - 30)
    yield text(words, 14, y, bold, palette)
    soft = Style(size=_SMALL, colour=palette.soft)
    off = f", {band.off_n} off" if band.off_n else ""
    yield text(
        f"{band.counts.get(0, 0)} now, {len(band.pieces)} in all{off}", 14, y + 16, soft, palette
    )
    if band.layers and band.waits_for:
        told = ["waits for", *(f"{other} {n}" for other, n in band.waits_for.items())]
        for line, words in enumerate(told[: int((band.height - 40) / 15)]):
            shown = shortened(words, size=_SMALL, most=LABEL - 30)
            yield text(shown, 14 if not line else 22, y + 34 + 15 * line, soft, palette)


def _cells(bands: Bands, band: Band, palette: Palette) -> Iterator[Node]:
    """How many pieces come off in each wave."""
    middle = band.top + band.height / 2
    for place, count in sorted(band.counts.items()):
        left = bands.lefts[place]
        yield node(
            "rect",
            x=left,
            y=middle - 11,
            width=CELL,
            height=22,
            rx=3,
            fill=palette.paper,
            stroke=palette.soft if place else palette.accent,
            stroke_width=1 if place else 2,
        )
        style = Style(
            size=SIZE,
            colour=palette.ink if place else palette.accent,
            weight=None if place else "700",
        )
        yield text(f"{count}", left + CELL / 2, middle, style, palette, anchor="middle")


def _key(height: float, palette: Palette) -> Node:
    words = (
        "Column: now, then once the columns before are off. Line: holds or hides what it leads to;"
        " dashed: one way of several. (2): two people. !: take care."
    )
    return text(words, 2, height - _FOOT / 2, Style(size=_SMALL, colour=palette.soft), palette)
