"""The name that was probably meant, for a remedy that can be acted on."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

SLIP = 0.85
"""Likeness (0 to 1) of two names from which one is taken for a slip of the other: one letter in
seven, so that "interior" is no slip of "exterior"."""


def nearest(name: str, known: Iterable[str], *, least: float = SLIP) -> str:
    """The known name that is most like ``name``; empty if none is like it.

    Case, spaces, hyphens, underscores and the order of the words do not count. Names that differ
    in a number are different names.

    Examples
    --------
    >>> nearest("max-cost", ["cost_max", "hours_max"])
    'cost_max'
    >>> nearest("seat 11", ["seat 12"])
    ''
    """
    here = _bare(name)
    found = [
        (difflib.SequenceMatcher(None, here, _bare(other)).ratio(), other)
        for other in known
        if re.findall(r"\d+", name) == re.findall(r"\d+", other)
    ]
    likeness, best = max(found, default=(0.0, ""), key=lambda pair: pair[0])
    return best if likeness >= least else ""


def _bare(name: str) -> str:
    split = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name).lower()
    return " ".join(sorted(re.split(r"[\s_-]+", split.strip())))
