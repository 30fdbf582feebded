"""Dates as years: all that a band of film or the workshop's base asks of a car's age."""

from __future__ import annotations

import functools

from edtf import parse_edtf
from edtf.parser.edtf_exceptions import EDTFParseException

Years = tuple[int | None, int | None]


@functools.lru_cache(maxsize=1024)
def built_years(built: str) -> Years:
    """First and last year that an EDTF date allows; ``None`` where it is open or not a date.

    Examples
    --------
    >>> built_years("1961~"), built_years("1958/1963"), built_years("../1970"), built_years("")
    ((1961, 1961), (1958, 1963), (None, 1970), (None, None))
    """
    try:
        date = parse_edtf(built)
        ends = (date.lower_strict(), date.upper_strict())
    except (EDTFParseException, ValueError, TypeError, AttributeError):
        return None, None
    first, last = (None if isinstance(end, float) else int(end[0]) for end in ends)
    return first, last


def middle_year(years: Years) -> float | None:
    """Middle of the years, or the one end that is known; ``None`` where neither is."""
    known = [year for year in years if year is not None]
    return sum(known) / len(known) if known else None
