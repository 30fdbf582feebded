"""The value of a spreadsheet's cell as the text that a CSV would hold."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any


def text_of(value: Any) -> str:
    """Value as text without loss: shortest digits that read back equal, ISO 8601 dates.

    Parameters
    ----------
    value : bool, int, float, str, date, datetime, time or timedelta

    References
    ----------
    ISO 8601-1, extended format. Floats: the shortest decimal that reads back to the same double.

    Examples
    --------
    >>> text_of(498.5), text_of(500.0), text_of(True)
    ('498.5', '500', 'yes')
    >>> text_of(datetime(2026, 5, 12, 10, 2))
    '2026-05-12T10:02'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, datetime):
        return _seconds(value).isoformat(timespec="seconds").removesuffix(":00")
    if isinstance(value, timedelta):
        minutes, seconds = divmod(round(value.total_seconds()), 60)
        return f"{minutes // 60:02d}:{minutes % 60:02d}:{seconds:02d}"
    if isinstance(value, date | time):
        return value.isoformat()
    return str(value).strip()


def _seconds(value: datetime) -> datetime:
    """A serial of days keeps seconds only about: the nearest whole one is meant."""
    whole = value.replace(microsecond=0)
    return whole + timedelta(seconds=1) if value.microsecond >= 500_000 else whole


def is_number(value: Any) -> bool:
    """Whether the file keeps the cell as a number, which no mark for thousands can blur."""
    return isinstance(value, int | float) and not isinstance(value, bool)
