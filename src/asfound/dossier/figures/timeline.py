"""Events along the years: what is said, what is possible, what is likely, what clashes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError
from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.timeline_bar import Bar, bar_nodes, hatch, key_nodes
from asfound.dossier.figures.timeline_ties import tie_nodes
from asfound.dossier.figures.words import Style, text
from asfound.record.folder import CarFolder
from asfound.weigh.dates import Dated, HistoryReading, day_number

Shape = Literal["wide", "narrow"]
MOST_ROWS = 40
_STEPS_YEARS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """Sizes of a drawing: names beside the bars, or above them where there is little room."""

    width: float
    left: float
    right: float
    row: float
    top: float
    size: float
    foot: float
    name_above: bool
    ticks: int


_LAYOUTS: dict[Shape, _Layout] = {
    "wide": _Layout(
        width=860, left=230, right=836, row=27, top=34, size=13, foot=62, name_above=False, ticks=9
    ),
    "narrow": _Layout(
        width=440, left=14, right=426, row=45, top=36, size=15, foot=88, name_above=True, ticks=5
    ),
}


def timeline_svg(
    car: CarFolder,
    reading: HistoryReading,
    *,
    shape: Shape = "wide",
    links_of: str = "",
    part: int = 0,
    address: Callable[[str], str] | None = None,
    theme: Theme = "page",
) -> str:
    """Timeline of a car as SVG, the earliest event at the top.

    Parameters
    ----------
    car : CarFolder
        Where the links and the standing of each statement are read from.
    reading : HistoryReading
    shape : {"wide", "narrow"}
        Names beside the bars, or above them.
    links_of : str
        Event whose links are drawn; none if empty.
    part : int
        Which of ``timeline_parts``, from 0; all have one scale.
    address : callable, optional
        Gives the address behind an event's name; names lead nowhere without it.
    theme : {"page", "print"}

    Raises
    ------
    InputError
        If there is no event, ``links_of`` is none of them, or there is no such part.

    Notes
    -----
    The thin line is the window as stated, the pale bar what all statements together leave, the
    dark part holds 90 % of all consistent histories, its notch the middle. An arrow is an open
    end. A clash is hatched.
    """
    names = [dated.event for dated in reading.events]
    if not names or (links_of and links_of not in names):
        allowed = ", ".join(names) or "an event; the car has none"
        raise InputError(field="event", got=links_of, allowed=allowed)
    parts = timeline_parts(reading)
    if not 0 <= part < len(parts):
        raise InputError(field="part", got=part, allowed=f"0 to {len(parts) - 1}")
    layout, palette = _LAYOUTS[shape], PALETTES[theme]
    scale = _scale(reading.events, layout)
    bottom = layout.top + layout.row * len(parts[part])
    root = svg_root(
        "When things happened",
        width=layout.width,
        height=bottom + layout.foot,
        class_="timeline",
        leads=address is not None,
    )
    root.add(hatch(shape, palette), *_axis(scale, layout, bottom, palette))
    doubted = {row.text("event") for row in car.sheet("events") if _is_set_aside(row.text)}
    bars = [
        Bar(
            dated=dated,
            y=_bar_y(place, layout),
            scale=scale.x,
            left=layout.left,
            right=layout.right,
            doubted=dated.event in doubted,
        )
        for place, dated in enumerate(parts[part])
    ]
    for bar in bars:
        root.add(*bar_nodes(bar, palette, layout.size, shape))
    if links_of:
        root.add(*tie_nodes(car, links_of, bars, palette, size=layout.size))
    for place, bar in enumerate(bars):
        chosen = bar.dated.event == links_of
        root.add(_name(bar, place, layout, palette, address, chosen=chosen))
    return render(root.add(*key_nodes(bottom + 22, layout.left, palette, layout.size, shape)))


def timeline_parts(reading: HistoryReading) -> tuple[tuple[Dated, ...], ...]:
    """Events in the order of the timeline, in parts of which each has room on one sheet."""
    ordered = sorted(reading.events, key=_begins)
    return tuple(
        tuple(ordered[begin : begin + MOST_ROWS]) for begin in range(0, len(ordered), MOST_ROWS)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scale:
    first_year: int
    last_year: int
    left: float
    right: float

    def x(self, day: int) -> float:
        """Where a day lies."""
        begin, end = day_number(year=self.first_year), day_number(year=self.last_year + 1)
        return self.left + (self.right - self.left) * (day - begin) / (end - begin)


def _scale(events: Sequence[Dated], layout: _Layout) -> _Scale:
    days = [
        day
        for dated in events
        for day in (dated.first, dated.last, dated.said_first, dated.said_last)
        if day is not None
    ] or [0]
    years = [1970 + day // 365.2425 for day in (min(days), max(days))]
    return _Scale(
        first_year=int(years[0]) - 1,
        last_year=int(years[1]) + 1,
        left=layout.left,
        right=layout.right,
    )


def _axis(scale: _Scale, layout: _Layout, bottom: float, palette: Palette) -> Iterator[Node]:
    span = scale.last_year - scale.first_year
    step = next((s for s in _STEPS_YEARS if span / s <= layout.ticks), _STEPS_YEARS[-1])
    style = Style(size=layout.size * 0.9, colour=palette.soft)
    for year in range(-(-scale.first_year // step) * step, scale.last_year + 1, step):
        x = scale.x(day_number(year=year))
        yield node(
            "path",
            d=f"M{number(x)} {number(layout.top - 10)}V{number(bottom)}",
            stroke=palette.rule,
            stroke_width=1,
        )
        yield text(str(year), x, layout.top - 20, style, palette, anchor="middle")


def _bar_y(place: int, layout: _Layout) -> float:
    middle = 0.72 if layout.name_above else 0.5
    return layout.top + layout.row * (place + middle)


def _name(
    bar: Bar,
    place: int,
    layout: _Layout,
    palette: Palette,
    address: Callable[[str], str] | None,
    *,
    chosen: bool,
) -> Node:
    event = bar.dated.event
    y = layout.top + layout.row * (place + 0.3) if layout.name_above else bar.y
    x = layout.left if layout.name_above else layout.left - 12
    style = Style(
        size=layout.size,
        colour=palette.accent if address else palette.ink,
        weight="700" if chosen else None,
        halo=palette.paper,
    )
    room = layout.right - layout.left if layout.name_above else layout.left
    most = int(room / layout.size / 0.5)
    short = event if len(event) <= most else f"{event[: most - 1]}…"
    named = text(short, x, y, style, palette, anchor="start" if layout.name_above else "end")
    if short != event:
        named.add(node("title", event))
    if address is None:
        return named
    touched = node(
        "rect",
        x=0,
        y=layout.top + layout.row * place,
        width=layout.right if layout.name_above else layout.left - 8,
        height=layout.row,
        fill="none",
        pointer_events="all",
    )
    return node("a", touched, named, href=address(event), aria_label=f"Links of {event}")


def _begins(dated: Dated) -> tuple[float, float]:
    """Earliest first; what is open there by its end, what is open on both sides last."""
    first = dated.said_first if dated.first is None else dated.first
    last = dated.said_last if dated.last is None else dated.last
    begin = first if first is not None else last
    return (float("inf") if begin is None else begin, float("inf") if last is None else last)


def _is_set_aside(text_of: Callable[[str], str]) -> bool:
    return text_of("standing") in ("doubted", "withdrawn")
