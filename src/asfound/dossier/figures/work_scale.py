"""Days along the top of a plan, their nights left out: where a time lies, what is written there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number
from asfound.dossier.figures.words import Style, text

HEAD = 46.0
_MONTH_Y, _DAY_Y, _DAY_OVER_HOURS_Y, _HOUR_Y = 11.0, 33.0, 24.0, 38.0
_MONTH_WIDTH, _DATE_WIDTH, _DAY_NAME_WIDTH, _HOURS_WIDTH = 96.0, 26.0, 52.0, 200.0
_USUAL_H = (8, 17)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkScale:
    """Times as places from left to right.

    Parameters
    ----------
    first_day : date
    days_n : int
    opens_h, closes_h : int
        Hours between which a day is drawn; what lies outside falls on its edge.
    left, day_width : float
        Drawing units.
    """

    first_day: date
    days_n: int
    opens_h: int
    closes_h: int
    left: float
    day_width: float

    def x(self, at: datetime) -> float:
        """Where a time lies, within the days that are drawn."""
        day = (at.date() - self.first_day).days
        hour = at.hour + at.minute / 60
        share = (hour - self.opens_h) / (self.closes_h - self.opens_h)
        along = day + min(max(share, 0.0), 1.0)
        return self.left + min(max(along, 0.0), float(self.days_n)) * self.day_width

    @property
    def right(self) -> float:
        """Right end of the last day."""
        return self.left + self.days_n * self.day_width

    @property
    def begins(self) -> datetime:
        """First midnight."""
        return datetime.combine(self.first_day, time())

    @property
    def ends(self) -> datetime:
        """Midnight after the last day."""
        return self.begins + timedelta(days=self.days_n)

    def ground(self, bottom: float, palette: Palette) -> Iterator[Node]:
        """Weekends as bands, a rule at each Monday, or at each day where there is room."""
        for day, x in self._days():
            if day.weekday() > 4:
                yield node(
                    "rect",
                    x=x,
                    y=HEAD,
                    width=self.day_width,
                    height=bottom - HEAD,
                    fill=palette.rule,
                    fill_opacity="0.4",
                )
            if day.weekday() == 0 or x == self.left or self.day_width > _DATE_WIDTH:
                top = HEAD - 6 if day.weekday() == 0 or x == self.left else HEAD
                yield node("path", d=f"M{number(x)} {top:.0f}V{bottom:.0f}", stroke=palette.rule)

    def head(self, palette: Palette) -> Iterator[Node]:
        """Months, days, and hours where there is room."""
        style = Style(size=11.5, colour=palette.soft)
        has_hours = self.day_width >= _HOURS_WIDTH
        y = _DAY_OVER_HOURS_Y if has_hours else _DAY_Y
        for day, x in self._days():
            if day.day == 1 or (x == self.left and not self._month_ends_at(day)):
                words = f"{day:%B %Y}" if day.month == 1 or x == self.left else f"{day:%B}"
                if x + 3 + width_of(words, size=style.size) <= self.right:
                    yield text(words, x + 3, _MONTH_Y, style, palette)
            told = self._told(day)
            if told:
                yield text(told, x + 3, y, style, palette)
            if has_hours:
                yield from self._hours(day, palette)

    def _days(self) -> Iterator[tuple[date, float]]:
        for place in range(self.days_n):
            yield self.first_day + timedelta(days=place), self.left + place * self.day_width

    def _told(self, day: date) -> str:
        if self.day_width >= _DAY_NAME_WIDTH:
            return (
                f"{day:%A} {day.day}" if self.day_width >= _HOURS_WIDTH else f"{day:%a} {day.day}"
            )
        if self.day_width >= _DATE_WIDTH:
            return f"{day.day}"
        weeks = max(1, math.ceil(_DATE_WIDTH / (7 * self.day_width)))
        counts = day.isocalendar().week % weeks == 0
        return f"{day.day}" if day.weekday() == 0 and counts else ""

    def _hours(self, day: date, palette: Palette) -> Iterator[Node]:
        style = Style(size=10.5, colour=palette.soft)
        for hour in range(self.opens_h + 1, self.closes_h):
            if hour % 2 == 0:
                x = self.x(datetime.combine(day, time(hour)))
                yield text(f"{hour}", x, _HOUR_Y, style, palette, anchor="middle")

    def _month_ends_at(self, first: date) -> bool:
        """Whether the next month's name would stand upon the first one's."""
        next_month = (first.replace(day=1) + timedelta(days=32)).replace(day=1)
        return (next_month - first).days * self.day_width < _MONTH_WIDTH


def hours_of(times: Iterable[datetime]) -> tuple[int, int]:
    """Full hours between which times of the day lie; usual ones where there are none."""
    hours = [at.hour + at.minute / 60 for at in times]
    opens, closes = (min(hours), max(hours)) if hours else _USUAL_H
    opens, closes = math.floor(opens), math.ceil(closes)
    return (opens, closes) if closes - opens >= 4 else (min(opens, 20), max(closes, opens + 4))
