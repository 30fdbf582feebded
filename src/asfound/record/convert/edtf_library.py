"""The library that reads EDTF, met in one place: it takes long to load, and prints."""

from __future__ import annotations

import calendar
import re
from datetime import date
from typing import Any

End = tuple[int, int, int]
"""Year, month and day."""
_DATE = re.compile(r"([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?")


def edtf_ends(text: str, *, with_doubt: bool = False) -> tuple[End | None, End | None]:
    """First and last day of a date or an interval; ``None`` where an end is open or unknown.

    Parameters
    ----------
    text : str
        A date as ISO 8601-2 writes it.
    with_doubt : bool
        Whether a date that is about or uncertain reaches further, as the library has it.

    Raises
    ------
    ValueError
        If it is no date.

    Examples
    --------
    >>> edtf_ends("1958/1963-02"), edtf_ends("../1970")
    (((1958, 1, 1), (1963, 2, 28)), (None, (1970, 12, 31)))
    """
    if not text:
        raise ValueError("an empty text is no date")
    if plain := _plain(text):
        return plain
    # Loaded here, since most dates are read without it.
    from edtf import parse_edtf  # noqa: PLC0415
    from edtf.parser import parser_classes  # noqa: PLC0415
    from edtf.parser.edtf_exceptions import EDTFParseException  # noqa: PLC0415

    # Where the parser stumbles it prints, and standard output is for results alone.
    vars(parser_classes)["print"] = lambda *_: None
    try:
        told = parse_edtf(text)
        if with_doubt:
            return _end(told.lower_fuzzy()), _end(told.upper_fuzzy())
        return _end(told.lower_strict()), _end(told.upper_strict())
    except (EDTFParseException, TypeError, AttributeError, OverflowError) as error:
        raise ValueError(f"{text!r} is no date") from error


def _plain(text: str) -> tuple[End, End] | None:
    """Ends of a year, month or day, or of an interval of two such; ``None`` for anything else."""
    ends = [_span(part) for part in text.split("/")]
    if len(ends) > 2 or None in ends:
        return None
    first, last = ends[0], ends[-1]
    assert first is not None and last is not None  # noqa: PT018 - one state: both were read
    return (first[0], last[1]) if first[0] <= last[0] else None


def _span(text: str) -> tuple[End, End] | None:
    found = _DATE.fullmatch(text)
    if found is None:
        return None
    year, month, day = (int(part) if part else None for part in found.groups())
    try:
        first = date(year or 0, month or 1, day or 1)
    except ValueError:
        return None
    last_day = calendar.monthrange(first.year, month or 12)[1]
    return (first.year, first.month, first.day), (first.year, month or 12, day or last_day)


def _end(end: Any) -> End | None:
    if isinstance(end, float):
        return None
    year, month, day = (int(part) for part in end[:3])
    return year, month, day
