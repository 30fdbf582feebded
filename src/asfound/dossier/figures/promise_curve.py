"""The chance that the work has finished, along the days."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import numpy as np

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.svg import NAMESPACE, Node, node, number, path, render
from asfound.dossier.figures.words import Style, text
from asfound.plan import Plan, Promise
from asfound.record.convert.plan import ShopQuestion

Along = Callable[[float], float]
_WIDTH, _HEIGHT = 620.0, 260.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 52.0, 596.0, 18.0, 214.0
_CHANCES = (0.5, 0.8, 0.95)
_DAY_MIN = 1440


def promise_svg(
    question: ShopQuestion, plan: Plan, promise: Promise, *, theme: Theme = "page"
) -> str:
    """Curve of the promise as SVG, with the days kept at 50, 80 and 95 %, and the plan's own."""
    palette = PALETTES[theme]
    days = promise.finishes_min / _DAY_MIN
    first = int(min(days[0], plan.finish_min / _DAY_MIN))
    last = int(days[-1]) + 1

    def x(day: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (day - first) / max(last - first, 1)

    def y(chance: float) -> float:
        return _BOTTOM - (_BOTTOM - _TOP) * chance

    root = node(
        "svg",
        node("title", "The chance that the work has finished"),
        xmlns=NAMESPACE,
        viewBox=f"0 0 {number(_WIDTH)} {number(_HEIGHT)}",
        class_="promise-curve",
        role="img",
        aria_label="The chance that the work has finished, by day",
    )
    soft = Style(size=12, colour=palette.soft)
    for chance in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = y(chance)
        root.add(
            node("path", d=f"M{_LEFT} {at:.1f}H{_RIGHT}", stroke=palette.rule),
            text(f"{chance:.0%}", _LEFT - 6, at, soft, palette, anchor="end"),
        )
    root.add(*_day_ticks(question, first, last, x, palette))
    places = np.linspace(0, len(days) - 1, min(len(days), 200)).astype(int)
    steps = np.column_stack(
        ([x(days[i]) for i in places], [y((i + 1) / len(days)) for i in places])
    )
    root.add(
        node(
            "path",
            d=path([steps], closed=False),
            fill="none",
            stroke=palette.accent,
            stroke_width=2.4,
        )
    )
    for chance in _CHANCES:
        root.add(*_kept(question, promise, chance, x, y, palette))
    at = x(plan.finish_min / _DAY_MIN)
    root.add(
        node("path", d=f"M{at:.1f} {_TOP}V{_BOTTOM}", stroke=palette.ink, stroke_dasharray="3 4"),
        text(
            "the plan",
            at + 5,
            _TOP + 8,
            Style(size=12, colour=palette.ink, halo=palette.paper),
            palette,
        ),
    )
    return render(root)


def _day_ticks(
    question: ShopQuestion, first: int, last: int, x: Along, palette: Palette
) -> list[Node]:
    step = max(1, -(-(last - first) // 7))
    soft = Style(size=12, colour=palette.soft)
    return [
        text(
            f"{question.first_day + timedelta(days=day):%d %b}",
            x(day),
            _BOTTOM + 18,
            soft,
            palette,
            anchor="middle",
        )
        for day in range(first, last + 1, step)
    ]


def _kept(
    question: ShopQuestion, promise: Promise, chance: float, x: Along, y: Along, palette: Palette
) -> list[Node]:
    minutes = promise.by(chance)
    here, at = x(minutes / _DAY_MIN), y(chance)
    words = f"{chance:.0%} by {question.at(minutes):%d %b}"
    style = Style(size=13, colour=palette.ink, halo=palette.paper, weight="600")
    return [
        node("circle", cx=here, cy=at, r=4, fill=palette.accent),
        text(words, here + 9, at + 9, style, palette)
        if here < _RIGHT - 130
        else text(words, here - 9, at + 4, style, palette, anchor="end"),
    ]
