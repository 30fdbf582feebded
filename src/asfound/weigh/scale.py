"""The words for a weight of evidence."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError

SCALE = "ENFSI guideline for evaluative reporting, 2015"
"""Name and edition of the verbal scale; stands beside every use of its words."""

NEUTRAL_UP_TO = 2.0
"""The published table begins its first band at 2; from 1/2 to 2 evidence is treated as neutral."""

_BANDS = (
    (10.0, "weak"),
    (100.0, "moderate"),
    (1_000.0, "moderately strong"),
    (10_000.0, "strong"),
    (1_000_000.0, "very strong"),
    (math.inf, "extremely strong"),
)


NEUTRAL = "neutral: does not support one statement over the other"
"""The scale's own words for evidence that is as likely under both statements."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A likelihood ratio in words.

    Parameters
    ----------
    lr : float
        The ratio the words stand for.
    degree : str
        "neutral", or how strong the support is.
    favours : {"statement", "alternative", "neither"}
        Which of the two the evidence supports.
    """

    lr: float
    degree: str
    favours: Literal["statement", "alternative", "neither"]


def weight_in_words(lr: float) -> Weight:
    """Degree of support that a likelihood ratio gives, and to which of the two statements.

    Parameters
    ----------
    lr : float
        Likelihood ratio of the statement against its alternative, above zero.

    Raises
    ------
    InputError
        If ``lr`` is not above zero.

    Notes
    -----
    Below one the band is read from the reciprocal, for the alternative. A ratio that falls on
    the edge of two bands takes the higher one; public renderings of the table differ there.

    References
    ----------
    ENFSI guideline for evaluative reporting in forensic science, 2015, verbal scale.

    Examples
    --------
    >>> weight_in_words(500.0).degree
    'moderately strong'
    >>> weight_in_words(1 / 500).favours
    'alternative'
    """
    if not lr > 0:
        raise InputError(field="lr", got=lr, allowed="above zero")
    ratio = max(lr, 1 / lr)
    if ratio <= NEUTRAL_UP_TO:
        return Weight(lr=lr, degree="neutral", favours="neither")
    degree = next(word for upper, word in _BANDS if ratio < upper or math.isinf(upper))
    return Weight(lr=lr, degree=degree, favours="statement" if lr > 1 else "alternative")


def support_in_words(lr: float, *, statement: str, alternative: str) -> str:
    """Degree of support and the statement that has it, or that neither has.

    Parameters
    ----------
    lr : float
        Likelihood ratio of the statement against its alternative, above zero.
    statement, alternative : str
        The two, in the words of who weighs them.

    Raises
    ------
    InputError
        If ``lr`` is not above zero.

    Examples
    --------
    >>> support_in_words(1 / 500, statement="fitted when built", alternative="fitted later")
    'moderately strong support for fitted later'
    """
    weight = weight_in_words(lr)
    if weight.favours == "neither":
        return NEUTRAL
    supported = statement if weight.favours == "statement" else alternative
    return f"{weight.degree} support for {supported}"
