"""A plan of the whole shop as bars along the days: by person, by bay, or by car."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Literal

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.plan_scale import HEAD, DayScale
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask

ShopBy = Literal["person", "bay", "car"]
BAR, GAP, SIZE = 22.0, 4.0, 12.0
NO_BAY, NOBODY = "no bay", "nobody"
_LEFT, _EDGE, _FOOT = 170.0, 8.0, 30.0
_DAY_WIDTH, _LEAST_WIDTH = 30.0, 1120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    task: PlannedTask
    row: str
    lane: int


class _Drawing:
    """Rows, lanes and the scale of days of one picture."""

    def __init__(self, shop: PlannedShop, by: ShopBy, palette: Palette) -> None:
        self.shop, self.by, self.palette = shop, by, palette
        self.zero = min((t.start for t in shop.tasks), default=shop.made_at).date()
        self.bars = list(self._laid())
        self.tops, self.bottom = self._rows()
        last = max([_last(t) for t in shop.tasks] + [shop.made_at])
        days = (last.date() - self.zero).days + 1
        self.scale = DayScale(
            first_day=self.zero,
            from_day=0,
            to_day=days - 1,
            left=_LEFT,
            day_width=max(_DAY_WIDTH, (_LEAST_WIDTH - _LEFT) / days),
        )

    def x(self, at: datetime) -> float:
        """Where a time lies."""
        return self.scale.x((at - datetime.combine(self.zero, time())) / timedelta(minutes=1))

    def _laid(self) -> Iterator[_Bar]:
        """Each bar in the first lane of its row that is free; drying takes room by car alone."""
        free: dict[str, list[datetime]] = {}
        for task in self.shop.tasks:
            several = {
                "person": task.people or (NOBODY,),
                "bay": (task.bay or NO_BAY,),
                "car": (self.shop.titles[task.car],),
            }[self.by]
            end = _last(task) if self.by == "car" else task.end
            for row in several:
                lanes = free.setdefault(row, [])
                lane = next((i for i, till in enumerate(lanes) if till <= task.start), len(lanes))
                lanes[lane:] = [end, *lanes[lane + 1 :]]
                yield _Bar(task=task, row=row, lane=lane)

    def _rows(self) -> tuple[dict[str, float], float]:
        named = {
            "person": self.shop.people,
            "bay": self.shop.bays,
            "car": tuple(self.shop.titles.values()),
        }[self.by]
        lanes: dict[str, int] = dict.fromkeys(named, 1)
        for bar in self.bars:
            lanes[bar.row] = max(lanes.get(bar.row, 1), bar.lane + 1)
        tops, y = {}, HEAD
        for row, count in lanes.items():
            tops[row] = y
            y += count * (BAR + GAP) + GAP
        return tops, y

    def top(self, bar: _Bar) -> float:
        """Upper edge of a bar."""
        return self.tops[bar.row] + GAP + bar.lane * (BAR + GAP)


def shop_svg(
    shop: PlannedShop,
    *,
    by: ShopBy = "person",
    of: Key | None = None,
    address: Callable[[PlannedTask], str] | None = None,
    theme: Theme = "page",
) -> str:
    """Bars of the shop's plan as SVG.

    Parameters
    ----------
    shop : PlannedShop
    by : {"person", "bay", "car"}
        What a row is.
    of : (str, str) or None
        Car and task whose links are drawn.
    address : callable, optional
        Gives the address behind a bar; bars lead nowhere without it.
    theme : {"page", "print"}

    Notes
    -----
    A bar runs from start to end over nights and days off. Drying and curing are a dotted line
    behind it, for nobody works then. By car, a flag stands at the end of the promised day.
    """
    palette = PALETTES[theme]
    drawing = _Drawing(shop, by, palette)
    right, bottom = drawing.scale.right, drawing.bottom
    root = svg_root(
        f"The plan of the shop by {by}",
        width=right + _EDGE,
        height=bottom + _FOOT,
        class_="plan-bars",
        sized=True,
        leads=address is not None,
    )
    root.add(*drawing.scale.ground(bottom, palette), *_row_heads(drawing))
    lines, dots = _links(drawing, of) if of else ([], [])
    root.add(*lines)
    if by == "car":
        root.add(*_drying(drawing), *_flags(drawing))
    for bar in drawing.bars:
        root.add(_bar(drawing, bar, of, address))
    root.add(*dots)
    words = "Heavy edge: sets the finish. Dashed edge: begun. Pale bands: Saturday and Sunday."
    if by == "car":
        words += " Dotted line: dries, nobody works. Flag: promised day."
    return render(
        root.add(
            text(words, _EDGE, bottom + _FOOT / 2, Style(size=11, colour=palette.soft), palette)
        )
    )


def _last(task: PlannedTask) -> datetime:
    return task.rests_until or task.end


def _row_heads(drawing: _Drawing) -> Iterator[Node]:
    palette = drawing.palette
    for row, top in drawing.tops.items():
        yield node("path", d=f"M{_EDGE} {top:.1f}H{drawing.scale.right:.1f}", stroke=palette.rule)
        words = row
        while width_of(words, size=13) > _LEFT - 2 * _EDGE:
            words = words[:-2].rstrip() + "…"
        style = Style(size=13, colour=palette.ink)
        yield text(words, _EDGE, top + GAP + BAR / 2, style, palette)


def _drying(drawing: _Drawing) -> Iterator[Node]:
    for bar in drawing.bars:
        if bar.task.rests_until is not None:
            y = drawing.top(bar) + BAR / 2
            x1, x2 = drawing.x(bar.task.end), drawing.x(bar.task.rests_until)
            yield node(
                "path",
                node("title", f"{bar.task.task} dries until {_when(bar.task.rests_until)}"),
                d=f"M{x1:.1f} {y:.1f}H{x2:.1f}",
                stroke=drawing.palette.soft,
                stroke_width=4,
                stroke_dasharray="1.5 4",
            )


def _flags(drawing: _Drawing) -> Iterator[Node]:
    """The end of each car's promised day, as far as the picture reaches."""
    for car in drawing.shop.cars:
        if car.promised is None:
            continue
        x = drawing.x(datetime.combine(car.promised + timedelta(days=1), time()))
        if not _LEFT <= x <= drawing.scale.right:
            continue
        top = drawing.tops[car.title]
        below = [y for y in drawing.tops.values() if y > top]
        foot = min(below, default=drawing.bottom)
        flag = f"M{x:.1f} {foot:.1f}V{top + 2:.1f}l-9 4.5 9 4.5"
        title = node("title", f"{car.title} is promised for {_day(car.promised)}")
        ink = drawing.palette.ink
        yield node("path", title, d=flag, fill=ink, fill_opacity="0.25", stroke=ink)


def _bar(
    drawing: _Drawing, bar: _Bar, of: Key | None, address: Callable[[PlannedTask], str] | None
) -> Node:
    task, palette, y = bar.task, drawing.palette, drawing.top(bar)
    x = drawing.x(task.start)
    width = max(drawing.x(task.end) - x, 2)
    chosen = task.key == of
    told = _told(task, drawing.shop.titles)
    shape = node(
        "rect",
        node("title", told),
        x=x,
        y=y,
        width=width,
        height=BAR,
        rx=3,
        fill=palette.accent if chosen else palette.paper,
        stroke=palette.accent if task.critical else palette.soft,
        stroke_width=2.6 if task.critical else 1,
        stroke_dasharray="5 3" if task.begun else None,
    )
    group = node("g", shape)
    full = f"{task.task} {task.name}".strip()
    words = next((w for w in (full, task.task) if width_of(w, size=SIZE) <= width - 8), "")
    if words:
        ink = palette.paper if chosen else palette.ink
        group.add(text(words, x + 4, y + BAR / 2, Style(size=SIZE, colour=ink), palette))
    if address is None:
        return group
    return node("a", group, href=address(task), aria_label=told)


def _told(task: PlannedTask, titles: Mapping[str, str]) -> str:
    who = f", {', '.join(task.people)}" if task.people else ""
    full = f"{titles[task.car]}: {task.task} {task.name}".strip()
    return f"{full}, {_when(task.start)} to {_when(task.end)}{who}"


def _when(at: datetime) -> str:
    return f"{at:%a %d %b %H:%M}"


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def _links(drawing: _Drawing, of: Key) -> tuple[list[Node], list[Node]]:
    """Lines of a task's links, and the dots at their ends."""
    where: dict[Key, _Bar] = {}
    for bar in drawing.bars:
        where.setdefault(bar.task.key, bar)
    lines, dots = [], []
    for car, before, after in drawing.shop.links:
        if of not in ((car, before), (car, after)):
            continue
        one, two = where[car, before], where[car, after]
        x1, y1 = drawing.x(one.task.end), drawing.top(one) + BAR / 2
        x2, y2 = drawing.x(two.task.start), drawing.top(two) + BAR / 2
        if y1 == y2:  # below the row, for other bars may stand between
            data = f"M{x1:.1f} {y1:.1f}V{y1 + (BAR + GAP) / 2:.1f}H{x2:.1f}V{y2:.1f}"
        else:
            bend = f"{x1 + 14:.1f} {y1:.1f} {x2 - 14:.1f} {y2:.1f} {x2:.1f} {y2:.1f}"
            data = f"M{x1:.1f} {y1:.1f}C{bend}"
        accent = drawing.palette.accent
        lines.append(node("path", d=data, fill="none", stroke=accent, stroke_width=1.8))
        dots.append(node("circle", cx=x2, cy=y2, r=3.2, fill=accent))
    return lines, dots
