"""The drawing of work as bars: rows, days, bars with their names, and the links of one of them."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from asfound.dossier.figures.bars import BAR, BESIDE, EDGE, LANE, SIZE, Bar, Layout, Row
from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.svg import Node, node, number, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.dossier.figures.work_scale import HEAD

_FOOT_LINE = 17.0
_ROW_SIZE = 13.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """What waits for what, and how long after it has ended."""

    before: Hashable
    after: Hashable
    lag: timedelta = timedelta()


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """A promised day at the end of a row."""

    row: str
    at: datetime
    told: str


def draw_bars(
    title: str,
    layout: Layout,
    palette: Palette,
    *,
    links: Sequence[Link] = (),
    of: Hashable = None,
    address: Callable[[Hashable], str] | None = None,
    flags: Sequence[Flag] = (),
    now: datetime | None = None,
    foot: Sequence[str] = (),
) -> Node:
    """The drawing of a layout.

    Parameters
    ----------
    title : str
    layout : Layout
    palette : Palette
    links : sequence of Link
        Only those of ``of`` are drawn.
    of : hashable, optional
        Key of the item whose links are drawn.
    address : callable, optional
        Gives the address behind a bar; bars lead nowhere without it.
    flags : sequence of Flag
    now : datetime, optional
        Drawn as a line where it lies within the days.
    foot : sequence of str
        Lines of the key.
    """
    scale = layout.scale
    height = layout.bottom + _FOOT_LINE * len(foot) + 10
    root = svg_root(
        title,
        width=scale.right + EDGE,
        height=height,
        class_="plan-bars",
        sized=True,
        leads=address is not None,
    )
    root.add(*scale.ground(layout.bottom, palette))
    if now is not None:
        root.add(*_now(layout, now, palette))
    own = [link for link in links if of is not None and of in (link.before, link.after)]
    near = {key for link in own for key in (link.before, link.after)}
    root.add(*_flags(layout, flags, palette))
    lines, dots = _links(layout, own, palette)
    root.add(*lines)
    for row in layout.rows:
        root.add(_row(row, layout, palette, of=of, near=near, address=address))
    root.add(*dots, node("g", *_row_heads(layout, palette), data_stays="x"))
    root.add(_head(layout, palette))
    style = Style(size=11.5, colour=palette.soft)
    for place, words in enumerate(foot):
        root.add(text(words, EDGE, layout.bottom + _FOOT_LINE * (place + 0.8), style, palette))
    return root


def _head(layout: Layout, palette: Palette) -> Node:
    ground = node("rect", y=0, width=layout.scale.right + EDGE, height=HEAD - 2, fill=palette.paper)
    rule = node("path", d=f"M0 {HEAD - 2}H{number(layout.scale.right)}", stroke=palette.soft)
    return node("g", ground, rule, *layout.scale.head(palette), data_stays="y")


def _row_heads(layout: Layout, palette: Palette) -> Iterator[Node]:
    style = Style(size=_ROW_SIZE, colour=palette.ink, weight="700", halo=palette.paper)
    for row in layout.rows:
        yield text(row.name, EDGE, row.top + 13, style, palette)


def _row(
    row: Row,
    layout: Layout,
    palette: Palette,
    *,
    of: Hashable,
    near: set[Hashable],
    address: Callable[[Hashable], str] | None,
) -> Node:
    line = f"M{number(EDGE)} {number(row.top)}H{number(layout.scale.right)}"
    group = node("g", node("path", d=line, stroke=palette.rule))
    for bar in row.bars:
        drawn = node(
            "g",
            node("title", bar.item.told),
            *_dries(bar, layout, palette),
            _shape(bar, palette, chosen=bar.item.key == of, near=bar.item.key in near),
            *_cut(bar, layout, palette, chosen=bar.item.key == of),
            _name(bar, palette, chosen=bar.item.key == of, near=bar.item.key in near),
        )
        if address is None:
            group.add(drawn)
        else:
            chosen = "yes" if bar.item.key == of else None
            link = {"href": address(bar.item.key), "aria_label": bar.item.told}
            group.add(node("a", drawn, **link, data_chosen=chosen))
    return group


def _shape(bar: Bar, palette: Palette, *, chosen: bool, near: bool) -> Node:
    heavy = bar.item.heavy or near
    return node(
        "rect",
        x=bar.left,
        y=bar.top,
        width=bar.right - bar.left,
        height=BAR,
        rx=3 if bar.right - bar.left > 8 else 1,
        fill=palette.accent if chosen else palette.paper,
        stroke=palette.accent if heavy else palette.soft,
        stroke_width=2.6 if heavy else 1,
        stroke_dasharray="5 3" if bar.item.begun else None,
    )


def _cut(bar: Bar, layout: Layout, palette: Palette, *, chosen: bool) -> Iterator[Node]:
    """A point at an end that lies beyond the days shown."""
    scale, y = layout.scale, bar.middle
    colour = palette.paper if chosen else palette.ink
    for is_cut, x, way in (
        (bar.item.start < scale.begins, bar.left + 2, 4),
        (bar.item.end > scale.ends, bar.right - 2, -4),
    ):
        if is_cut:
            data = f"M{number(x + way)} {number(y - 4)}L{number(x)} {number(y)}l{way} 4"
            yield node("path", d=data, fill="none", stroke=colour, stroke_width=1.2)


def _name(bar: Bar, palette: Palette, *, chosen: bool, near: bool) -> Node:
    inside = bar.is_inside
    style = Style(
        size=SIZE,
        colour=palette.paper if chosen and inside else palette.ink,
        halo=None if inside else palette.paper,
        weight="700" if near else None,
    )
    if bar.is_before:
        return text(bar.words, bar.left - BESIDE, bar.middle, style, palette, anchor="end")
    return text(bar.words, bar.words_at, bar.middle, style, palette)


def _dries(bar: Bar, layout: Layout, palette: Palette) -> Iterator[Node]:
    item, scale = bar.item, layout.scale
    if item.rests_until is None:
        return
    x1 = scale.x(max(item.end, scale.begins))
    x2 = scale.x(min(item.rests_until, scale.ends))
    yield node(
        "path",
        d=f"M{number(x1)} {number(bar.middle)}H{number(x2)}",
        stroke=palette.soft,
        stroke_width=4,
        stroke_dasharray="1.5 4",
    )


def _now(layout: Layout, now: datetime, palette: Palette) -> Iterator[Node]:
    scale = layout.scale
    if not scale.begins <= now < scale.ends:
        return
    x = scale.x(now)
    yield node(
        "path",
        node("title", f"now: {now:%a %-d %b %H:%M}"),
        d=f"M{number(x)} {HEAD - 2}V{number(layout.bottom)}",
        stroke=palette.accent,
        stroke_width=1.6,
        stroke_dasharray="2 3",
    )


def _flags(layout: Layout, flags: Sequence[Flag], palette: Palette) -> Iterator[Node]:
    rows = {row.name: row for row in layout.rows}
    for flag in flags:
        if flag.row not in rows or not layout.scale.begins < flag.at <= layout.scale.ends:
            continue
        x, row = layout.scale.x(flag.at), rows[flag.row]
        data = f"M{number(x)} {number(row.bottom)}V{number(row.top + 2)}l-9 4.5 9 4.5"
        title = node("title", flag.told)
        ink = palette.ink
        yield node("path", title, d=data, fill=ink, fill_opacity="0.25", stroke=ink)


def _links(
    layout: Layout, links: Sequence[Link], palette: Palette
) -> tuple[list[Node], list[Node]]:
    """Lines of the links, and the dots at their ends."""
    where = _where(layout)
    lines: list[Node] = []
    dots: list[Node] = []
    for link in links:
        one, two = where.get(link.before), where.get(link.after)
        if one is None or two is None:
            continue
        ready = layout.scale.x(one.item.end + link.lag)
        lines.append(_line(one, two, ready, palette))
        dots.append(node("circle", cx=two.left, cy=two.middle, r=3.2, fill=palette.accent))
    return lines, dots


def _where(layout: Layout) -> Mapping[Hashable, Bar]:
    """The first bar of each item, from above."""
    found: dict[Hashable, Bar] = {}
    for row in layout.rows:
        for bar in row.bars:
            found.setdefault(bar.item.key, bar)
    return found


def _line(one: Bar, two: Bar, ready: float, palette: Palette) -> Node:
    x1, y1, x2, y2 = one.right, one.middle, two.left, two.middle
    along = f"M{x1:.1f} {y1:.1f}H{max(ready, x1):.1f}"
    if y1 == y2:  # below the lane, for other bars may stand between
        data = f"{along}V{y1 + LANE / 2:.1f}H{x2:.1f}V{y2:.1f}"
    else:
        x1 = max(ready, x1)
        data = f"{along}C{x1 + 14:.1f} {y1:.1f} {x2 - 14:.1f} {y2:.1f} {x2:.1f} {y2:.1f}"
    return node("path", d=data, fill="none", stroke=palette.accent, stroke_width=1.8)
