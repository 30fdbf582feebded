"""The library that reads EDTF, met in one place: it takes long to load, and prints."""

from __future__ import annotations

from typing import Any

End = tuple[int, int, int]
"""Year, month and day."""


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
    # Loaded here, since most dates are read without it.
    from edtf import parse_edtf  # noqa: PLC0415
    from edtf.parser import parser_classes  # noqa: PLC0415
    from edtf.parser.edtf_exceptions import EDTFParseException  # noqa: PLC0415

    # Where the parser stumbles it prints, and standard output is for results alone.
    vars(parser_classes)["print"] = lambda *_: None
    try:
        date = parse_edtf(text)
        if with_doubt:
            return _end(date.lower_fuzzy()), _end(date.upper_fuzzy())
        return _end(date.lower_strict()), _end(date.upper_strict())
    except (EDTFParseException, TypeError, AttributeError, OverflowError) as error:
        raise ValueError(f"{text!r} is no date") from error


def _end(end: Any) -> End | None:
    if isinstance(end, float):
        return None
    year, month, day = (int(part) for part in end[:3])
    return year, month, day
