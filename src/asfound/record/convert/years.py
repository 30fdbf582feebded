"""Dates as years: all that a band of film or the workshop's base asks of a car's age."""

from __future__ import annotations

import functools

from asfound.record.convert.edtf_library import edtf_ends

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
        first, last = edtf_ends(built)
    except ValueError:
        return None, None
    return first and first[0], last and last[0]


def middle_year(years: Years) -> float | None:
    """Middle of the years, or the one end that is known; ``None`` where neither is."""
    known = [year for year in years if year is not None]
    return sum(known) / len(known) if known else None
