"""What the address asks of a plan: its first day, how its bars stand, whose links are drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import get_args
from urllib.parse import urlencode

from django.http import QueryDict

from asfound.desk.shop.window import Days, days_of
from asfound.dossier.figures.plan_bars import By
from asfound.plan import Past
from asfound.record.convert.past import NO_PAST
from asfound.record.reads.past import shop_past


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """First day, rows of the bars, and the task whose links are drawn.

    Parameters
    ----------
    start : date or None
    wrong_start : str
        What was typed, where it is no day.
    by : {"person", "bay", "task"}
    of : str
        Empty for none.
    days : Days
        The days that the bars show.
    with_past : bool
        Whether hours are taken as finished work says that they come out.
    """

    start: date | None
    wrong_start: str
    by: By
    of: str
    days: Days
    with_past: bool = True

    def query(self, changes: Mapping[str, str] = MappingProxyType({})) -> str:
        """The same question with some answers changed, as the end of an address."""
        told = {
            "start": self.start.isoformat() if self.start else "",
            "by": self.by,
            "of": self.of,
            "past": "" if self.with_past else "no",
            **self.days.query(),
            **changes,
        }
        return "?" + urlencode({key: value for key, value in told.items() if value})


def asked_of(data: QueryDict) -> Asked:
    """Question in an address; what it does not say is as usual."""
    typed = data.get("start", "").strip()
    try:
        start = date.fromisoformat(typed) if typed else None
    except ValueError:
        start = None
    by = data.get("by", "")
    return Asked(
        start=start,
        wrong_start=typed if typed and start is None else "",
        by=by if by in get_args(By) else "person",  # type: ignore[arg-type]  # just compared
        of=data.get("of", ""),
        days=days_of(data),
        with_past=data.get("past", "") != "no",
    )


def past_asked(asked: Asked) -> Past:
    """What the workshop's finished work says, or nothing where it is left out."""
    return shop_past() if asked.with_past else NO_PAST
