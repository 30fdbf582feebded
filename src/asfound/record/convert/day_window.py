"""A date or a time as people write it becomes the days that it allows."""

from __future__ import annotations

from asfound.record.convert.edtf_days import Days, edtf_days


def day_window(text: str) -> Days:
    """First and last day, as day numbers, of an EDTF date or an ISO time; ``None`` where open.

    What is no date allows every day: a table of readings also holds days that nobody checked.

    Examples
    --------
    >>> day_window("1970-01-01"), day_window("1970-01-01T10:02"), day_window("../1970-01-03")
    ((0, 0), (0, 0), (None, 2))
    >>> day_window(""), day_window("long ago")
    ((None, None), (None, None))
    """
    day = text.strip().replace(" ", "T").partition("T")[0]
    try:
        return edtf_days(day)
    except ValueError:
        return None, None
