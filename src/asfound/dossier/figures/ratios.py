"""Actual over estimated hours: each job, the factor they come to, and where one more may fall."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.svg import Node, node, render, svg_root
from asfound.dossier.figures.words import Style, text

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW, _FOOT = 370.0, 12.0, 358.0, 34.0, 50.0, 8.0
_TICKS = (0.1, 0.2, 0.33, 0.5, 0.7, 1.0, 1.4, 2.0, 3.0, 5.0, 10.0)
_LEAST_SPAN = (0.5, 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioRow:
    """One row of the drawing.

    Parameters
    ----------
    title : str
    ratios : sequence of float
        Actual over estimate of each job, above zero.
    factor, low, high : float
        The factor and its 90 % interval.
    job_low, job_high : float
        Between which one further job falls nine times in ten.
    """

    title: str
    ratios: Sequence[float]
    factor: float
    low: float
    high: float
    job_low: float
    job_high: float


class _Scale:
    """Places along a logarithmic scale that holds everything drawn."""

    def __init__(self, rows: Sequence[RatioRow]) -> None:
        told = [v for row in rows for v in (*row.ratios, row.job_low, row.job_high)]
        self.low, self.high = min(_LEAST_SPAN[0], *told) * 0.93, max(_LEAST_SPAN[1], *told) * 1.07

    def x(self, ratio: float) -> float:
        """Place of a ratio."""
        share = math.log(ratio / self.low) / math.log(self.high / self.low)
        return _LEFT + (_RIGHT - _LEFT) * share


def ratios_svg(rows: Sequence[RatioRow], *, theme: Theme = "page") -> str:
    """Rows of ratios as SVG on one logarithmic scale.

    Parameters
    ----------
    rows : sequence of RatioRow
        One or more.
    theme : {"page", "print"}

    Notes
    -----
    A circle is a job; the thick bar is where the factor lies nine times in ten, with the factor
    as a stroke across; the thin line with ends is where one further job falls nine times in ten.
    """
    palette, scale = PALETTES[theme], _Scale(rows)
    bottom = _TOP + _ROW * len(rows)
    root = svg_root(
        "Hours worked over hours estimated, by trade and kind of job",
        width=_WIDTH,
        height=bottom + _FOOT,
        class_="ratios",
    )
    root.add(*_ground(scale, bottom, palette))
    for place, row in enumerate(rows):
        root.add(*_row(row, _TOP + _ROW * place, scale, palette))
    return render(root)


def _ground(scale: _Scale, bottom: float, palette: Palette) -> Iterator[Node]:
    soft = Style(size=13, colour=palette.soft)
    last = -math.inf
    for tick in _TICKS:
        x = scale.x(tick)
        if not _LEFT + 8 <= x <= _RIGHT - 8 or x - last < 38:
            continue
        last = x
        ink = palette.ink if tick == 1 else palette.rule
        yield node("path", d=f"M{x:.1f} {_TOP - 8}V{bottom:.1f}", stroke=ink)
        yield text(f"× {tick:g}", x, _TOP - 18, soft, palette, anchor="middle")


def _row(row: RatioRow, top: float, scale: _Scale, palette: Palette) -> Iterator[Node]:
    y = top + 33
    style = Style(size=14, colour=palette.ink, halo=palette.paper, weight="600")
    yield text(row.title, _LEFT, top + 11, style, palette)
    x1, x2 = scale.x(row.job_low), scale.x(row.job_high)
    ends = f"M{x1:.1f} {y - 6}v12M{x1:.1f} {y}H{x2:.1f}M{x2:.1f} {y - 6}v12"
    yield node("path", d=ends, stroke=palette.ink, stroke_width=1.2, fill="none")
    x1, x2 = scale.x(row.low), scale.x(row.high)
    yield node(
        "rect",
        x=x1,
        y=y - 5,
        width=max(x2 - x1, 2),
        height=10,
        fill=palette.accent,
        fill_opacity="0.45",
        stroke=palette.accent,
    )
    x = scale.x(row.factor)
    yield node("path", d=f"M{x:.1f} {y - 9}v18", stroke=palette.accent, stroke_width=3)
    for ratio in row.ratios:
        title = node("title", f"a job at × {ratio:.2f}")
        yield node(
            "circle",
            title,
            cx=scale.x(ratio),
            cy=y,
            r=4,
            fill=palette.paper,
            stroke=palette.ink,
            stroke_width=1.4,
        )
