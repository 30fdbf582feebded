"""A plan as bars along the days: by person, by bay, or task by task."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.plan_scale import DAY_MIN, HEAD, DayScale
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.plan import Placed, Plan
from asfound.record.convert.plan import ShopQuestion

By = Literal["person", "bay", "task"]
BAR, GAP, SIZE = 22.0, 4.0, 12.0
_LEFT, _EDGE, _FOOT = 150.0, 8.0, 30.0
_DAY_WIDTH, _LEAST_WIDTH = 24.0, 1120.0
NO_BAY = "no bay"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One task in one row."""

    placed: Placed
    row: str
    lane: int


def plan_svg(
    question: ShopQuestion,
    plan: Plan,
    *,
    by: By = "person",
    critical: Sequence[str] = (),
    names: Mapping[str, str] | None = None,
    of: str = "",
    address: Callable[[str], str] | None = None,
    theme: Theme = "page",
) -> str:
    """Bars of a plan as SVG.

    Parameters
    ----------
    question : ShopQuestion
    plan : Plan
    by : {"person", "bay", "task"}
        What a row is.
    critical : sequence of str
        Tasks that set the finish; drawn with a heavy edge.
    names : mapping of str to str
        What each task is, for bars with room for it.
    of : str
        Task whose links are drawn; none if empty.
    address : callable, optional
        Gives the address behind a bar; bars lead nowhere without it.
    theme : {"page", "print"}

    Notes
    -----
    A bar runs from start to end over nights and days off. A line from bar to bar is a link; its
    flat part is waiting.
    """
    palette = PALETTES[theme]
    bars = list(_laid(question, plan, by))
    tops, bottom = _rows(question, bars, by)
    scale = _scale(question, plan)
    root = svg_root(
        f"The plan by {by}",
        width=scale.right + _EDGE,
        height=bottom + _FOOT,
        class_="plan-bars",
        sized=True,
        leads=address is not None,
    )
    root.add(*scale.ground(bottom, palette))
    for row, top in tops.items():
        root.add(
            node("path", d=f"M{_EDGE} {top:.1f}H{scale.right:.1f}", stroke=palette.rule),
            text(
                _short(row), _EDGE, top + GAP + BAR / 2, Style(size=13, colour=palette.ink), palette
            ),
        )
    dots = node("g")
    if of:  # behind the bars, so that no line runs through their words
        lines, ends = _links(question, of, bars, tops, scale, palette)
        root.add(*lines)
        dots.add(*ends)
    for bar in bars:
        root.add(_bar(question, bar, tops, scale, palette, critical, names or {}, of, address))
    root.add(dots)
    words = "Heavy edge: sets the finish. Pale bands: Saturday and Sunday."
    foot = Style(size=11, colour=palette.soft)
    return render(root.add(text(words, _EDGE, bottom + _FOOT / 2, foot, palette)))


def _short(words: str) -> str:
    while width_of(words, size=13) > _LEFT - 2 * _EDGE:
        words = words[:-2].rstrip() + "…"
    return words


def _scale(question: ShopQuestion, plan: Plan) -> DayScale:
    first = min((p.start_min for p in plan.placed), default=0) // DAY_MIN
    last = max(plan.finish_min - 1, 0) // DAY_MIN
    days = last - first + 1
    width = max(_DAY_WIDTH, (_LEAST_WIDTH - _LEFT) / days)
    return DayScale(
        first_day=question.first_day, from_day=first, to_day=last, left=_LEFT, day_width=width
    )


def _laid(question: ShopQuestion, plan: Plan, by: By) -> Iterator[Bar]:
    """Each bar in the first lane of its row that is free."""
    free: dict[str, list[int]] = {}
    for placed in plan.placed:
        task = question.problem.named[placed.task]
        several = {
            "person": placed.people or ("nobody",),
            "bay": tuple(task.bays) or (NO_BAY,),
            "task": (placed.task,),
        }[by]
        for row in several:
            lanes = free.setdefault(row, [])
            lane = next((i for i, end in enumerate(lanes) if end <= placed.start_min), len(lanes))
            lanes[lane:] = [placed.end_min, *lanes[lane + 1 :]]
            yield Bar(placed=placed, row=row, lane=lane)


def _rows(question: ShopQuestion, bars: list[Bar], by: By) -> tuple[dict[str, float], float]:
    """Top of each row in the order of the table, and the bottom of the last."""
    named = {
        "person": [p.person for p in question.problem.people],
        "bay": [b.bay for b in question.problem.bays],
        "task": [],
    }[by]
    lanes: dict[str, int] = dict.fromkeys(named, 1)
    for bar in bars:
        lanes[bar.row] = max(lanes.get(bar.row, 1), bar.lane + 1)
    tops, y = {}, HEAD
    for row, count in lanes.items():
        tops[row] = y
        y += count * (BAR + GAP) + GAP
    return tops, y


def _bar(
    question: ShopQuestion,
    bar: Bar,
    tops: dict[str, float],
    scale: DayScale,
    palette: Palette,
    critical: Sequence[str],
    names: Mapping[str, str],
    of: str,
    address: Callable[[str], str] | None,
) -> Node:
    placed = bar.placed
    x, width = scale.x(placed.start_min), scale.x(placed.end_min) - scale.x(placed.start_min)
    y = _top(bar, tops)
    heavy = placed.task in critical
    begin, end = question.at(placed.start_min), question.at(placed.end_min)
    who = ", ".join(placed.people)
    full = f"{placed.task} {names.get(placed.task, '')}".strip()
    told = f"{full}, {begin:%a %d %b %H:%M} to {end:%a %d %b %H:%M}" + f", {who}" * bool(who)
    shape = node(
        "rect",
        node("title", told),
        x=x,
        y=y,
        width=max(width, 2),
        height=BAR,
        rx=3,
        fill=palette.accent if placed.task == of else palette.paper,
        stroke=palette.accent if heavy else palette.soft,
        stroke_width=2.6 if heavy else 1,
    )
    group = node("g", shape)
    fits = (w for w in (full, placed.task) if width_of(w, size=SIZE) <= width - 6)
    words = next(fits, "")
    if words:
        ink = palette.paper if placed.task == of else palette.ink
        group.add(text(words, x + 4, y + BAR / 2, Style(size=SIZE, colour=ink), palette))
    if address is None:
        return group
    return node("a", group, href=address(placed.task), aria_label=told)


def _top(bar: Bar, tops: dict[str, float]) -> float:
    return tops[bar.row] + GAP + bar.lane * (BAR + GAP)


def _links(
    question: ShopQuestion,
    of: str,
    bars: list[Bar],
    tops: dict[str, float],
    scale: DayScale,
    palette: Palette,
) -> tuple[list[Node], list[Node]]:
    """Lines of a task's links, and the dots at their ends."""
    where: dict[str, Bar] = {}
    for bar in bars:
        where.setdefault(bar.placed.task, bar)
    lines: list[Node] = []
    dots: list[Node] = []
    for link in question.problem.links:
        if of not in (link.before, link.after):
            continue
        one, two = where[link.before], where[link.after]
        x1, y1 = scale.x(one.placed.end_min), _top(one, tops) + BAR / 2
        x2, y2 = scale.x(two.placed.start_min), _top(two, tops) + BAR / 2
        wait = scale.x(one.placed.end_min + link.lag_min)
        along = f"M{x1:.1f} {y1:.1f}H{wait:.1f}"
        if y1 == y2:  # below the row, for other bars may stand between
            below = y1 + (BAR + GAP) / 2
            data = f"{along}V{below:.1f}H{x2:.1f}V{y2:.1f}"
        else:
            data = f"{along}C{wait + 14:.1f} {y1:.1f} {x2 - 14:.1f} {y2:.1f} {x2:.1f} {y2:.1f}"
        lines.append(node("path", d=data, fill="none", stroke=palette.accent, stroke_width=1.8))
        dots.append(node("circle", cx=x2, cy=y2, r=3.2, fill=palette.accent))
    return lines, dots
