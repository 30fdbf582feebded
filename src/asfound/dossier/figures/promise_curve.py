"""The chance that the work has finished, along the days."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, path, render, svg_root
from asfound.dossier.figures.words import Style, text

_WIDTH, _HEIGHT = 370.0, 250.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 46.0, 360.0, 18.0, 212.0
_CHANCES = (0.5, 0.8, 0.95)
_DAY_MIN = 1440
_MOST_TICKS = 4
_NAME_SHARE = 0.21
"""Of the width, that is kept to the left of an early line for its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finishes:
    """When work has finished, in doubt.

    Parameters
    ----------
    first_day : date
        From whose midnight minutes are counted.
    curve_min : sequence of float
        Times [min] by which the shares 0 … 1 of the draws have finished, in equal steps.
    plan_min : float
        Finish of the plan itself [min].
    promised : date or None
        Day that was told to the owner.
    """

    first_day: date
    curve_min: Sequence[float]
    plan_min: float
    promised: date | None = None

    @property
    def promised_day(self) -> float | None:
        """End of the promised day, in days from the first midnight."""
        return None if self.promised is None else float((self.promised - self.first_day).days + 1)

    def day(self, chance: float) -> float:
        """Days from the first midnight by which the chance, 0–1, is reached."""
        return float(self.curve_min[round(chance * (len(self.curve_min) - 1))]) / _DAY_MIN

    def date_of(self, day: float) -> date:
        """Date so many days after the first."""
        return self.first_day + timedelta(days=int(day))


def promise_svg(finishes: Finishes, *, theme: Theme = "page") -> str:
    """Curve of a promise as SVG: the days kept at 50, 80 and 95 %, the plan's, the one told.

    Parameters
    ----------
    finishes : Finishes
    theme : {"page", "print"}
    """
    palette = PALETTES[theme]
    x, first, last = _along(finishes)
    root = svg_root(
        "The chance that the work has finished",
        width=_WIDTH,
        height=_HEIGHT,
        class_="promise-curve",
        told=_told(finishes),
    )
    soft = Style(size=13, colour=palette.soft)
    for chance in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = _y(chance)
        root.add(
            node("path", d=f"M{_LEFT} {at:.1f}H{_RIGHT}", stroke=palette.rule),
            text(f"{chance:.0%}", _LEFT - 6, at, soft, palette, anchor="end"),
        )
    root.add(*_day_ticks(finishes, first, last, x, palette))
    root.add(*_marks(finishes, x, palette))
    chances = np.linspace(0, 1, len(finishes.curve_min))
    steps = np.array(
        [(x(m / _DAY_MIN), _y(c)) for m, c in zip(finishes.curve_min, chances, strict=True)]
    )
    curve = path([steps], closed=False)
    root.add(node("path", d=curve, fill="none", stroke=palette.accent, stroke_width=2.4))
    for chance in _CHANCES:
        root.add(*_kept(finishes, chance, x, palette))
    return render(root)


def _along(finishes: Finishes) -> tuple[Callable[[float], float], int, int]:
    """Place of a day, and the first and last day shown; a promise far off is left outside."""
    begin, end = finishes.curve_min[0] / _DAY_MIN, finishes.curve_min[-1] / _DAY_MIN
    days = [begin, end, finishes.plan_min / _DAY_MIN]
    told, span = finishes.promised_day, max(end - begin, 5.0)
    if told is not None and begin - span <= told <= end + span:
        days.append(told)
    last = int(max(days)) + 1
    named = (day for day in (finishes.plan_min / _DAY_MIN, told) if day is not None)
    early = [day for day in named if min(days) <= day < finishes.day(0.5)]
    room = (day - _NAME_SHARE / (1 - _NAME_SHARE) * (last - day) for day in early)
    first = math.floor(min([*days, *room]))

    def x(day: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (day - first) / max(last - first, 1)

    return x, first, last


def _y(chance: float) -> float:
    return _BOTTOM - (_BOTTOM - _TOP) * chance


def _told(finishes: Finishes) -> str:
    days = (f"{c:.0%} by {finishes.date_of(finishes.day(c)):%-d %b %Y}" for c in _CHANCES)
    told = f", promised for {finishes.promised:%-d %b %Y}" if finishes.promised else ""
    return f"The chance that the work has finished: {', '.join(days)}{told}"


def _day_ticks(
    finishes: Finishes, first: int, last: int, x: Callable[[float], float], palette: Palette
) -> Iterator[Node]:
    step = max(1, -(-(last - first) // _MOST_TICKS))
    soft = Style(size=13, colour=palette.soft)
    for day in range(first, last + 1, step):
        words = f"{finishes.date_of(day):%-d %b}"
        place = min(x(day), _WIDTH - width_of(words, size=13) / 2)
        yield text(words, place, _BOTTOM + 18, soft, palette, anchor="middle")


def _marks(finishes: Finishes, x: Callable[[float], float], palette: Palette) -> Iterator[Node]:
    """Upright lines at the plan's own finish and at the end of the promised day."""
    told, plan = finishes.promised_day, x(finishes.plan_min / _DAY_MIN)
    beside = plan
    if told is not None and 0 <= plan - x(told) < width_of("the plan", size=13) + 10:
        beside = x(told)  # else its name would lie across the line of the promised day
    yield from _upright("the plan", plan, _y(0.62), "3 4", palette, left=True, beside=beside)
    if told is not None and _LEFT <= x(told) <= _RIGHT:
        early = told < finishes.day(0.5)
        y = _y(0.4) if early else _BOTTOM - 10
        yield from _upright("promised", x(told), y, "", palette, left=early)


def _upright(
    words: str,
    at: float,
    y: float,
    dashes: str,
    palette: Palette,
    *,
    left: bool = False,
    beside: float | None = None,
) -> Iterator[Node]:
    """Line with its name beside it, to the left where that is empty or the right has no room.

    ``beside`` is where a name to the left ends, where that is not at the line.
    """
    line = f"M{at:.1f} {_TOP}V{_BOTTOM}"
    yield node("path", d=line, stroke=palette.ink, stroke_dasharray=dashes or None)
    style = Style(size=13, colour=palette.ink, halo=palette.paper)
    width = width_of(words, size=13) + 5
    end = at if beside is None else beside
    if at + width > _RIGHT or (left and end - width > _LEFT):
        yield text(words, end - 5, y, style, palette, anchor="end")
    else:
        yield text(words, at + 5, y, style, palette)


def _kept(
    finishes: Finishes, chance: float, x: Callable[[float], float], palette: Palette
) -> list[Node]:
    day = finishes.day(chance)
    here, at = x(day), _y(chance)
    words = f"{chance:.0%} by {finishes.date_of(day):%-d %b}"
    style = Style(size=14, colour=palette.ink, halo=palette.paper, weight="600")
    return [
        node("circle", cx=here, cy=at, r=4, fill=palette.accent),
        text(words, here + 9, at + 9, style, palette)
        if here + 9 + width_of(words, size=14) < _RIGHT
        else text(words, here - 9, at - 9, style, palette, anchor="end"),
    ]
