"""One side of an edge's drawing: two panels and the gap between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.svg import Node, Points, node, number, path
from asfound.dossier.figures.words import Anchor, Style, text
from asfound.measure.gaps import EdgeResult, Run

_STEPS = 33
_BODY = 20.0
_ARM = 3.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """An edge on the drawing; ``turn`` is 1 where its gap opens upwards, −1 downwards.

    ``x0`` is where 0 mm along the edge lies, ``across`` and ``up`` are drawing units a mm along
    the edge and across the gap, ``base`` is the near border of the gap, ``reach`` how far the
    drawing of the side goes from there.
    """

    edge: EdgeResult
    twin: EdgeResult | None
    x0: float
    across: float
    up: float
    base: float
    turn: int
    reach: float

    @property
    def left(self) -> float:
        """Where the drawing of the edge begins."""
        return self.point(self.edge.readings[0].along_mm, 0)[0]

    def point(self, along_mm: float, gap_mm: float) -> tuple[float, float]:
        """A place on the edge and across its gap, on the drawing."""
        return self.x0 + along_mm * self.across, self.base - self.turn * gap_mm * self.up

    def line(self, along_mm: Points, gap_mm: Points) -> Points:
        """Many points at once, shape (n, 2)."""
        y = self.base - self.turn * gap_mm * self.up
        return np.column_stack([self.x0 + along_mm * self.across, y])


def draw_side(
    side: Side, palette: Palette, *, left: float, right: float, size: float
) -> Iterator[Node]:
    """Near panel, far panel along the fitted line, band, twin, limits, readings, name."""
    yield _near_panel(side, palette, left, right)
    if side.edge.fit:
        yield from _far_panel(side, side.edge.fit.gap, palette)
    if side.twin and side.twin.fit:
        yield _twin_line(side, side.twin, palette)
    yield from _limits(side, palette, left, right, size)
    yield from _readings(side, palette, size)
    yield from _name(side, palette, left, size)


def _near_panel(side: Side, palette: Palette, left: float, right: float) -> Node:
    top = side.base if side.turn == 1 else side.base - _BODY * 0.5
    d = f"M{number(left)} {number(side.base)}H{number(right)}"
    return node(
        "g",
        node(
            "rect",
            x=left,
            y=top,
            width=right - left,
            height=_BODY * 0.5,
            fill=palette.rule,
        ),
        node("path", d=d, stroke=palette.ink, stroke_width="1.2"),
    )


def _fitted(edge: EdgeResult, run: Run) -> tuple[Points, Points, Points]:
    """Places [mm], fitted gap [mm] and half-width of its 95 % interval."""
    start = edge.readings[0].along_mm
    share = np.linspace(0, 1, _STEPS)
    at = [run.at(float(s)) for s in share]
    along = start + share * (edge.readings[-1].along_mm - start)
    return (
        along,
        np.array([e.value for e in at]),
        np.array([e.expanded(coverage=0.95) for e in at]),
    )


def _far_panel(side: Side, run: Run, palette: Palette) -> Iterator[Node]:
    along, gap, u95 = _fitted(side.edge, run)
    border = side.line(along, gap)
    far = border[::-1] - (0, side.turn * _BODY)
    body = path([np.vstack([border, far])], closed=True)
    low, high = side.line(along, gap - u95), side.line(along, gap + u95)
    band = path([np.vstack([low, high[::-1]])], closed=True)
    yield node("path", d=body, fill=palette.rule)
    yield node("path", d=band, fill=palette.paper, fill_opacity="0.6")
    yield node(
        "path",
        d=band,
        fill=palette.accent,
        fill_opacity="0.2",
        stroke=palette.soft,
        stroke_width="0.6",
        class_="doubt",
    )
    yield node("path", d=path([border], closed=False), fill="none", stroke=palette.ink)


def _twin_line(side: Side, twin: EdgeResult, palette: Palette) -> Node:
    assert twin.fit is not None
    along, gap, _ = _fitted(twin, twin.fit.gap)
    return node(
        "path",
        d=path([side.line(along, gap)], closed=False),
        fill="none",
        stroke=palette.accent,
        stroke_width="1.6",
        stroke_dasharray="7 4",
        class_="twin",
    )


def _limits(side: Side, palette: Palette, left: float, right: float, size: float) -> Iterator[Node]:
    style = Style(size=size * 0.8, colour=palette.soft)
    ground = side.edge.ground
    for words, limit_mm in (("least", ground.least_mm), ("most", ground.most_mm)):
        if limit_mm is None:
            continue
        _, y = side.point(0, limit_mm)
        d = f"M{number(left)} {number(y)}H{number(right)}"
        yield node("path", d=d, stroke=palette.ink, stroke_width="1", stroke_dasharray="1.5 4")
        yield text(f"{words} {limit_mm:g}", left - 4, y, style, palette, anchor="end")


def _decimals(number_mm: float) -> int:
    return len(f"{number_mm:g}".partition(".")[2])


def _readings(side: Side, palette: Palette, size: float) -> Iterator[Node]:
    """Crosses with their number; a number that would touch the last one is left out."""
    style = Style(size=size * 0.84, colour=palette.ink, halo=palette.paper)
    free_from = -1e9
    decimals = max((_decimals(r.gap_mm) for r in side.edge.readings), default=0)
    for reading in side.edge.readings:
        x, y = side.point(reading.along_mm, reading.gap_mm)
        d = (
            f"M{number(x - _ARM)} {number(y)}h{number(2 * _ARM)}"
            f"M{number(x)} {number(y - _ARM)}v{number(2 * _ARM)}"
        )
        yield node("path", d=d, stroke=palette.paper, stroke_width="3")
        yield node("path", d=d, stroke=palette.ink, stroke_width="1.1", class_="gap-reading")
        if x >= free_from:
            at = _clear_of_lines(side, reading.along_mm, y, size)
            anchor: Anchor = "start" if x < side.left + size else "middle"
            yield text(f"{reading.gap_mm:.{decimals}f}", x, at, style, palette, anchor=anchor)
            free_from = x + 2.6 * size


def _clear_of_lines(side: Side, along_mm: float, y: float, size: float) -> float:
    """Middle of a number beside its cross, where neither a limit nor the twin's line strikes it."""
    ground, lines = side.edge.ground, []
    for limit_mm in (ground.least_mm, ground.most_mm):
        if limit_mm is not None:
            lines.append(side.point(0, limit_mm)[1])
    if side.twin and side.twin.fit:
        along, gap, _ = _fitted(side.twin, side.twin.fit.gap)
        lines.append(side.point(0, float(np.interp(along_mm, along, gap)))[1])
    places = [y + side.turn * size * away for away in (0.95, -0.95, 1.7, -1.7)]

    def clear(at: float) -> float:
        return min((abs(at - line) for line in lines), default=size)

    return next((at for at in places if clear(at) > size * 0.55), max(places, key=clear))


def _name(side: Side, palette: Palette, left: float, size: float) -> Iterator[Node]:
    """Name of the edge beyond its far panel, with what its line says."""
    y = side.base - side.turn * (side.reach + size * 0.7)
    said = side.edge.ground.edge
    if side.edge.fit:
        said += f": {_figures(side.edge.fit.gap)}"
    else:
        said += ": no line, readings at one place only" if side.edge.readings else ": not read"
    style = Style(size=size, colour=palette.ink, weight="bold")
    yield text(said, left, y, style, palette)


def _figures(run: Run) -> str:
    middle, out = run.middle_mm, run.run_out_mm
    return (
        (
            f"{middle.value:.1f} ± {middle.expanded(coverage=0.95):.1f} mm, "
            f"run-out {out.value:+.1f} ± {out.expanded(coverage=0.95):.1f} mm"
        )
        .replace("-", "\N{MINUS SIGN}")
        .replace("run\N{MINUS SIGN}out", "run-out")
    )
