"""The days of the demo: written beside the code for one week, moved by whole weeks to the run's.

What was measured, signed and worked then lies in the weeks before the person who looks at it, and
what is planned in those after; a Monday stays a Monday.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Self

from asfound.demo.written import Rows

MONDAY = date(2024, 4, 15)
"""The Monday of the run as the tables are written: what lies before it is done."""
_WEEK = 7
_WEEKEND = 2
_DAY = re.compile(r"(?<!\d)(202[1-9])([-:])(\d\d)\2(\d\d)(?!\d)")
"""A day of the work as tables (``-``) or cameras (``:``) write it; the car's past is older."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """How far the written days are moved: 0 or more whole weeks."""

    moved_by: timedelta = timedelta()

    @classmethod
    def up_to(cls, today: date) -> Self:
        """Days for a run on ``today``; at a weekend the week that comes counts."""
        weeks = (today + timedelta(days=_WEEKEND) - MONDAY).days // _WEEK
        return cls(moved_by=timedelta(weeks=max(weeks, 0)))

    def day(self, written: date) -> date:
        """A written day, moved."""
        return written + self.moved_by

    def at(self, written: str) -> datetime:
        """A written time with its zone, moved."""
        return datetime.fromisoformat(written) + self.moved_by

    def text(self, cell: str) -> str:
        """A cell with its days moved.

        Examples
        --------
        >>> Days(moved_by=timedelta(weeks=1)).text("2024-04-29/2024-05-03; built 1957-03-11")
        '2024-05-06/2024-05-10; built 1957-03-11'
        """
        return _DAY.sub(self._moved, cell)

    def rows(self, rows: Rows) -> Rows:
        """Rows with their days moved."""
        return [{name: self.text(cell) for name, cell in row.items()} for row in rows]

    def _moved(self, found: re.Match[str]) -> str:
        year, between, month, day = found.groups()
        moved = self.day(date(int(year), int(month), int(day)))
        return moved.strftime(f"%Y{between}%m{between}%d")


AS_WRITTEN = Days()
