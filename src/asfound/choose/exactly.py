"""The decimal that a person wrote."""

from __future__ import annotations

from fractions import Fraction


def exact(value: float) -> Fraction:
    """The decimal that a person wrote, not the binary neighbour that stands for it.

    Examples
    --------
    >>> exact(0.1) * 3 == exact(0.3)
    True
    """
    return Fraction(repr(float(value)))
