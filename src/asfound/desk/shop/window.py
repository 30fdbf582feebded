"""Which days the bars of a plan show: asked for in an address, and led on from there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from django.http import QueryDict
from django.utils import timezone

from asfound.dossier.figures.bars import SHOWN_DAYS, ZOOMS, Window, Zoom

FEW_TASKS = 60
"""More are shown by the fortnight at first."""
_TOLD: dict[Zoom, str] = {
    "whole": "all days",
    "weeks": "two weeks",
    "week": "one week",
    "days": "three days",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """What an address says of the days; ``zoom`` is empty where it says nothing."""

    zoom: Zoom | None
    first: date | None

    def query(self) -> dict[str, str]:
        """The same as the end of an address has it."""
        return {"zoom": self.zoom or "", "from": self.first.isoformat() if self.first else ""}

    def window(self, *, begins: date, ends: date, tasks_n: int) -> Window:
        """The days that are shown of a plan; where nothing was asked, those about today."""
        zoom: Zoom = self.zoom or ("whole" if tasks_n <= FEW_TASKS else "weeks")
        first = self.first or min(max(timezone.localdate(), begins), ends)
        return Window(zoom=zoom, first_day=first)


def days_of(data: QueryDict) -> Days:
    """Days asked for in an address; what is no day is as if nothing was asked."""
    zoom = data.get("zoom", "")
    try:
        first = date.fromisoformat(data.get("from", ""))
    except ValueError:
        first = None
    known = next((one for one in ZOOMS if one == zoom), None)
    return Days(zoom=known, first=first if first and 1900 < first.year < 9000 else None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A link to other days."""

    told: str
    address: str
    is_here: bool = False


def ways_from(
    window: Window, address: Callable[[dict[str, str]], str], *, begins: date, ends: date
) -> dict[str, list[Way]]:
    """Links to more or fewer days, and to those before and after.

    Parameters
    ----------
    window : Window
        The days that are shown.
    address : callable
        The page's address with some answers changed.
    begins, ends : date
        First and last day of the plan; nothing leads beyond them.
    """
    day = window.first_day or begins
    zooms = [
        Way(
            told=_TOLD[zoom],
            address=address({"zoom": zoom, "from": f"{day}" if zoom != "whole" else ""}),
            is_here=zoom == window.zoom,
        )
        for zoom in ZOOMS
    ]
    if window.zoom == "whole":
        return {"days_shown": zooms, "days_beside": []}
    first = window.begins(())
    step = timedelta(days=SHOWN_DAYS[window.zoom])
    moves = [
        ("earlier", first - step, first > begins),
        ("today", timezone.localdate(), begins <= timezone.localdate() <= ends),
        ("later", first + step, first + step <= ends),
    ]
    return {
        "days_shown": zooms,
        "days_beside": [
            Way(told=told, address=address({"zoom": window.zoom, "from": f"{to}"}))
            for told, to, is_there in moves
            if is_there
        ],
    }
