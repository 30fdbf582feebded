"""The decimal that a person wrote."""

from __future__ import annotations

import functools
from fractions import Fraction


@functools.lru_cache(maxsize=65_536)
def exact(value: float) -> Fraction:
    """The decimal that a person wrote, not the binary neighbour that stands for it.

    Examples
    --------
    >>> exact(0.1) * 3 == exact(0.3)
    True
    """
    return Fraction(repr(float(value)))
