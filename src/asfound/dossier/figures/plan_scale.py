"""Days along the top of a plan: where each lies, what is no working day, what is written there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.svg import Node, node
from asfound.dossier.figures.words import Style, text

DAY_MIN = 1440
HEAD = 40.0
_MONTH_WIDTH = 96.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DayScale:
    """Minutes of a plan as places from left to right.

    Parameters
    ----------
    first_day : date
    from_day, to_day : int
        First and last day drawn, counted from the plan's first.
    left, day_width : float
        Drawing units.
    """

    first_day: date
    from_day: int
    to_day: int
    left: float
    day_width: float

    def x(self, minutes: float) -> float:
        """Where a minute of the plan lies."""
        return self.left + (minutes / DAY_MIN - self.from_day) * self.day_width

    @property
    def right(self) -> float:
        """Right end of the last day."""
        return self.x((self.to_day + 1) * DAY_MIN)

    def _month_ends_at(self, first: date) -> bool:
        """Whether the next month's name would stand upon the first one's."""
        next_month = (first.replace(day=1) + timedelta(days=32)).replace(day=1)
        return (next_month - first).days * self.day_width < _MONTH_WIDTH

    def ground(self, bottom: float, palette: Palette) -> Iterator[Node]:
        """Weekends as bands, a rule at each Monday, days and months above."""
        style = Style(size=11, colour=palette.soft)
        for day in range(self.from_day, self.to_day + 1):
            here = self.first_day + timedelta(days=day)
            x = self.x(day * DAY_MIN)
            if here.weekday() > 4:
                yield node(
                    "rect",
                    x=x,
                    y=HEAD,
                    width=self.day_width,
                    height=bottom - HEAD,
                    fill=palette.rule,
                    fill_opacity="0.4",
                )
            if here.weekday() == 0 or day == self.from_day:
                yield node("path", d=f"M{x:.1f} {HEAD - 6:.0f}V{bottom:.0f}", stroke=palette.rule)
                yield text(f"{here.day}", x + 3, HEAD - 10, style, palette)
            if here.day == 1 or (day == self.from_day and not self._month_ends_at(here)):
                words = f"{here:%B %Y}" if here.month == 1 or day == self.from_day else f"{here:%B}"
                yield text(words, x + 3, 12, style, palette)
