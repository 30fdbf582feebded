"""Dates that are read without the library have the ends that the library gives them."""

from __future__ import annotations

import pytest
from edtf import parse_edtf

from asfound.record.convert.edtf_library import edtf_ends

PLAIN = ("1958", "1958-02", "2024-02-29", "1900-02", "1958/1963-02", "2026-12-01/2026-12-05")
NOT_PLAIN = ("2023-02-29", "1958-13", "19585", "1958-1", "1963/1958")


@pytest.mark.parametrize("text", PLAIN)
@pytest.mark.parametrize("with_doubt", [False, True])
def test_ends_are_those_of_the_library(text: str, *, with_doubt: bool) -> None:
    told = parse_edtf(text)
    ends = (
        (told.lower_fuzzy(), told.upper_fuzzy())
        if with_doubt
        else (told.lower_strict(), told.upper_strict())
    )
    assert edtf_ends(text, with_doubt=with_doubt) == tuple(tuple(end[:3]) for end in ends)


@pytest.mark.parametrize("text", NOT_PLAIN)
def test_what_is_no_plain_date_is_left_to_the_library(text: str) -> None:
    try:
        told = parse_edtf(text)
        expected = tuple(tuple(end[:3]) for end in (told.lower_strict(), told.upper_strict()))
    except Exception:
        with pytest.raises(ValueError, match="no date"):
            edtf_ends(text)
    else:
        assert edtf_ends(text) == expected
