"""Work as bars along the days, each with its name: in the bar, or beside one that is too short."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import Literal, get_args

from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.work_scale import HEAD, WorkScale, hours_of

Zoom = Literal["whole", "weeks", "week", "days"]
ZOOMS: tuple[Zoom, ...] = get_args(Zoom)
SHOWN_DAYS: dict[Zoom, int] = {"whole": 0, "weeks": 14, "week": 7, "days": 3}
"""Days that a drawing shows; nought for all there are."""
BAR, LANE, SIZE, ROW_HEAD, ROW_GAP = 19.0, 24.0, 12.0, 25.0, 9.0
LEFT, EDGE, WIDTH = 8.0, 8.0, 1120.0
BESIDE, INSIDE, CUT = 5.0, 5.0, 6.0
_MOST_NAME: dict[Zoom, float] = {"whole": 150.0, "weeks": 230.0, "week": 300.0, "days": 340.0}
_FEW, _MOST_NAME_OF_FEW = 60, 260.0
"""Among few bars names have more room, whatever the days."""
_LEAST_DAY = 7.0
_NO_DAY = date(2001, 1, 1)
"""A Monday, where nothing is planned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The days that are shown: all, weeks from a Monday on, or three days from one on.

    Parameters
    ----------
    zoom : {"whole", "weeks", "week", "days"}
    first_day : date or None
        Any day of the first week, or the first of the days; None for where the work begins.
    from_monday : bool
        Whether weeks begin on their Monday.
    """

    zoom: Zoom = "whole"
    first_day: date | None = None
    from_monday: bool = True

    def begins(self, items: Iterable[Item]) -> date:
        """First day that is shown."""
        day = None if self.zoom == "whole" else self.first_day
        day = day or min((item.start.date() for item in items), default=_NO_DAY)
        is_week = self.from_monday and self.zoom in ("weeks", "week")
        return day - timedelta(days=day.weekday()) if is_week else day

    def moved(self, times: int) -> Window:
        """So many windows later, or earlier."""
        days = timedelta(days=times * SHOWN_DAYS[self.zoom])
        return replace(self, first_day=self.first_day + days if self.first_day else None)


WHOLE = Window()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One piece of work in one row.

    Parameters
    ----------
    key : hashable
        The same in every row in which the work stands.
    row, name, told : str
        ``told`` says it whole, to who points at it or cannot see it.
    start, end : datetime
    rests_until : datetime or None
        Until when it dries; drawn where given.
    heavy, begun : bool
    """

    key: Hashable
    row: str
    name: str
    told: str
    start: datetime
    end: datetime
    rests_until: datetime | None = None
    heavy: bool = False
    begun: bool = False

    @property
    def last(self) -> datetime:
        """When it ends, its drying with it."""
        return self.rests_until or self.end


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """An item in its place.

    Parameters
    ----------
    item : Item
    left, right : float
        Of the bar, as far as it is drawn.
    words : str
        Its name as far as there is room.
    words_at : float
        Left end of the name.
    top : float
    """

    item: Item
    left: float
    right: float
    words: str
    words_at: float
    top: float = 0.0

    @property
    def is_inside(self) -> bool:
        """Whether the name stands in the bar."""
        return self.left <= self.words_at < self.right

    @property
    def is_before(self) -> bool:
        """Whether the name stands before the bar."""
        return self.words_at < self.left

    @property
    def middle(self) -> float:
        """Height of its middle."""
        return self.top + BAR / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A person, a bay, a car or a task, with its bars."""

    name: str
    top: float
    bottom: float
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All rows on their days."""

    scale: WorkScale
    rows: tuple[Row, ...] = field(default=())

    @property
    def bottom(self) -> float:
        """Lower edge of the last row."""
        return self.rows[-1].bottom if self.rows else HEAD


def lay_bars(
    items: Sequence[Item],
    rows: Sequence[str],
    *,
    window: Window = WHOLE,
    until: datetime | None = None,
    stacked: bool = False,
    only: Collection[str] | None = None,
) -> Layout:
    """Every bar in the first lane of its row in which it and its name are alone.

    Parameters
    ----------
    items : sequence of Item
    rows : sequence of str
        In the order of the drawing; a row without work is drawn empty.
    window : Window
    until : datetime, optional
        A time that the whole shows too.
    stacked : bool
        Whether every bar has a lane alone, in the order of their starts.
    only : collection of str, optional
        Rows that are drawn; the days are those of all.
    """
    scale = _scale(items, window, until)
    shown = [i for i in items if i.start < scale.ends and i.last > scale.begins]
    most = _MOST_NAME_OF_FEW if len(shown) <= _FEW else 0.0
    most = max(most, _MOST_NAME[window.zoom])
    found, top = [], HEAD + 6
    names = dict.fromkeys([*rows, *(item.row for item in shown)])
    for name in (n for n in names if only is None or n in only):
        bars = [_bar(item, scale, most) for item in shown if item.row == name]
        first = top + (ROW_HEAD if name else 0.0)
        bars = _stacked(bars, first) if stacked else _lanes(bars, scale, first)
        bottom = max((bar.top + LANE for bar in bars), default=first) + ROW_GAP
        found.append(Row(name=name, top=top, bottom=bottom, bars=tuple(bars)))
        top = bottom
    return Layout(scale=scale, rows=tuple(found))


def _scale(items: Sequence[Item], window: Window, until: datetime | None) -> WorkScale:
    opens_h, closes_h = hours_of(at for item in items for at in (item.start, item.end))
    first = window.begins(items)
    last = max([*(item.last for item in items), *([until] if until else [])], default=None)
    days_n = SHOWN_DAYS[window.zoom] or (max((last.date() - first).days, 0) + 1 if last else 7)
    return WorkScale(
        first_day=first,
        days_n=days_n,
        opens_h=opens_h,
        closes_h=closes_h,
        left=LEFT,
        day_width=max(_LEAST_DAY, (WIDTH - LEFT - EDGE) / days_n),
    )


def _bar(item: Item, scale: WorkScale, most: float) -> Bar:
    left = scale.x(max(item.start, scale.begins))
    right = max(scale.x(min(item.end, scale.ends)), left + 3)
    words = _short(item.name, max(most, right - left - 2 * INSIDE))
    wide = width_of(words, size=SIZE)
    rested = max(right, scale.x(min(item.last, scale.ends)))
    inside = INSIDE + (CUT if item.start < scale.begins else 0.0)
    if wide + inside + INSIDE <= right - left:
        at = left + inside
    elif rested + BESIDE + wide <= scale.right:
        at = rested + BESIDE
    else:
        at = left - BESIDE - wide
    return Bar(item=item, left=left, right=right, words=words, words_at=at)


def _short(words: str, most: float) -> str:
    if width_of(words, size=SIZE) <= most:
        return words
    while words and width_of(words + "…", size=SIZE) > most:
        words = words[:-1].rstrip()
    return words + "…"


def _lanes(bars: list[Bar], scale: WorkScale, top: float) -> list[Bar]:
    """Bars in lanes, those that begin first above."""
    ends: list[float] = []
    placed = []
    for bar in sorted(bars, key=lambda b: (min(b.left, b.words_at), b.right)):
        begins = min(bar.left, bar.words_at)
        words_end = bar.words_at + width_of(bar.words, size=SIZE)
        last = max(bar.right, words_end, scale.x(min(bar.item.last, scale.ends)))
        lane = next((i for i, end in enumerate(ends) if end <= begins), len(ends))
        ends[lane:] = [last + BESIDE, *ends[lane + 1 :]]
        placed.append(replace(bar, top=top + lane * LANE))
    return placed


def _stacked(bars: list[Bar], top: float) -> list[Bar]:
    ordered = sorted(bars, key=lambda bar: (bar.item.start, bar.item.end))
    return [replace(bar, top=top + lane * LANE) for lane, bar in enumerate(ordered)]


def midnight_after(day: date) -> datetime:
    """End of a day."""
    return datetime.combine(day, time()) + timedelta(days=1)
