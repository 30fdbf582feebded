"""How long hours of work take the people who can do them, before any plan is made."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from asfound.record.folder import CarFolder

_DAYS = 5


def weeks_of(car: CarFolder, hours: Mapping[str, float]) -> float | None:
    """Weeks of the trade that takes longest; None where nobody is on record for some trade.

    Notes
    -----
    Hours of a trade over the hours a week of all who have it. People with two trades count for
    both, nothing waits for anything: a lower bound, and no promise. The plan gives that.
    """
    by_trade: defaultdict[str, float] = defaultdict(float)
    for row in car.sheet("people"):
        days = len([day for day in row.text("days").split(";") if day.strip()]) or _DAYS
        for trade in row.text("trades").split(";"):
            by_trade[trade.strip()] += row.number("hours_per_day", default=0.0) * days
    needed = {trade: h for trade, h in hours.items() if h > 0}
    if any(not by_trade.get(trade) for trade in needed):
        return None
    return max((h / by_trade[trade] for trade, h in needed.items()), default=0.0)
