"""A date as people write it becomes the days that it allows."""

from __future__ import annotations

from asfound.record.convert.edtf_days import Days, edtf_days


def day_window(text: str) -> Days:
    """First and last day, as day numbers, of an EDTF date or an ISO time; ``None`` where open.

    A date with ``~`` or ``?`` reaches a unit further to either side, a year for a year; see
    ``edtf_days``. What is no date is open on both sides.

    Examples
    --------
    >>> day_window("1970-01-01"), day_window("1970-01-01T10:02"), day_window("../1970-01-03")
    ((0, 0), (0, 0), (None, 2))
    >>> day_window("")
    (None, None)
    """
    try:
        return edtf_days(text.strip().replace(" ", "T").partition("T")[0])
    except ValueError:
        return None, None
