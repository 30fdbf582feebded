"""Errands: rows of ``errands.csv`` read as what is out, where, and until when."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from asfound.record.convert.edtf_library import edtf_ends


@dataclass(frozen=True, slots=True, kw_only=True)
class Errand:
    """Way of a part out of the workshop and back, as a row tells it.

    Parameters
    ----------
    to, work : str
        Who does it and what is done.
    sent, due, back : str
        EDTF dates as written; empty where none is.
    days_left : int or None
        Days from today until the last day of ``due``; negative once that is past, ``None``
        without a due date that can be read.
    days_out : int or None
        Days from the first day of ``sent`` until it came back, or until today.
    """

    to: str
    work: str
    sent: str
    due: str
    back: str
    days_left: int | None
    days_out: int | None

    @property
    def is_out(self) -> bool:
        """Whether it has not come back."""
        return not self.back

    @property
    def is_overdue(self) -> bool:
        """Whether it is out past the last day that was agreed."""
        return self.is_out and self.days_left is not None and self.days_left < 0


def errand_of(cells: Mapping[str, str], *, today: date) -> Errand:
    """Errand that a row tells, seen from today."""
    due, back = cells.get("due_on", ""), cells.get("back_on", "")
    sent = cells.get("sent_on", "")
    last, first = days_of(due)[1], days_of(sent)[0]
    until = days_of(back)[1] if back else today
    return Errand(
        to=cells.get("to", ""),
        work=cells.get("work", ""),
        sent=sent,
        due=due,
        back=back,
        days_left=None if last is None else (last - today).days,
        days_out=None if first is None or until is None else max((until - first).days, 0),
    )


@functools.lru_cache(maxsize=4096)
def days_of(text: str) -> tuple[date | None, date | None]:
    """First and last day that an EDTF date allows; ``None`` where it is open or no date.

    Examples
    --------
    >>> [str(day) for day in days_of("2026-12")]
    ['2026-12-01', '2026-12-31']
    """
    try:
        first, last = (None if end is None else date(*end) for end in edtf_ends(text))
    except ValueError:
        return None, None
    return first, last


def day_words(text: str) -> str:
    """EDTF date for people: a single day with its weekday, anything else as written.

    Examples
    --------
    >>> day_words("2026-11-27"), day_words("2026-12")
    ('Friday 27 November 2026', '2026-12')
    """
    first, last = days_of(text)
    if first is None or first != last or len(text) != len("2026-11-27"):
        return text
    return f"{first:%A} {first.day} {first:%B} {first.year}"


def due_words(errand: Errand) -> str:
    """When it is due, in plain words.

    Examples
    --------
    >>> out = {"to": "x", "work": "y", "sent_on": "2026-11-02", "due_on": "2026-11-20"}
    >>> due_words(errand_of(out, today=date(2026, 11, 25)))
    '5 days overdue, was due Friday 20 November 2026'
    """
    if not errand.is_out:
        return f"back {day_words(errand.back)}"
    left = errand.days_left
    if left is None:
        return f"due {errand.due}" if errand.due else "no day agreed"
    when = day_words(errand.due)
    if left < 0:
        return f"{_days(-left)} overdue, was due {when}"
    if left == 0:
        return f"due today, {when}"
    return f"due tomorrow, {when}" if left == 1 else f"due in {_days(left)}, {when}"


def _days(count: int) -> str:
    return f"{count} day{'' if count == 1 else 's'}"
