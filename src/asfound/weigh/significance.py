"""Why a piece matters, by named criteria; how their grades make the weight of its fabric."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType

from asfound.base import InputError

GRADES: Mapping[str, int] = MappingProxyType(
    {"none": 0, "some": 1, "considerable": 3, "exceptional": 5}
)
"""Grades in words and what each counts. The steps are our own, no source; *some* counts what a
piece weighs of which nobody said anything."""
HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Criterion:
    """One reason for which a piece may matter.

    Parameters
    ----------
    name : str
    weight : float
        How much it counts beside the others, zero or more; 0 for a prompt that counts nothing.
    meaning, source : str
    """

    name: str
    weight: float = 1.0
    meaning: str = ""
    source: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.weight) and self.weight >= 0):
            raise InputError(
                field="weight", got=self.weight, allowed="a finite number, zero or more"
            )


_PRIMARY = "Significance 2.0 (2009), primary criteria"
_COMPARATIVE = "Significance 2.0 (2009), comparative criteria"
SUPPLIED = (
    Criterion(
        name="historic",
        meaning="what it tells of people, events, a time or a trade",
        source=_PRIMARY,
    ),
    Criterion(name="aesthetic", meaning="its form, making and surface", source=_PRIMARY),
    Criterion(
        name="technical",
        meaning="what can be learned from it of how such cars were made and worked",
        source=f"{_PRIMARY}: scientific or research",
    ),
    Criterion(
        name="social",
        meaning="what it means to people today: family, club, place",
        source=f"{_PRIMARY}: social or spiritual",
    ),
    Criterion(
        name="provenance", meaning="how well its way to us is documented", source=_COMPARATIVE
    ),
    Criterion(
        name="rarity",
        meaning="how few like it are left, or how well it stands for its kind",
        source=f"{_COMPARATIVE}: rarity or representativeness",
    ),
    Criterion(
        name="completeness",
        meaning="how whole and unaltered it is, in which condition",
        source=f"{_COMPARATIVE}: condition or completeness",
    ),
    Criterion(
        name="what it can show",
        meaning="how well it lets people see and understand the car",
        source=f"{_COMPARATIVE}: interpretive capacity",
    ),
)
"""Criteria with one weight each (the weights are our own, no source), where a car has none of its
own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Graded:
    """What one person found of a piece by one criterion, and why.

    Parameters
    ----------
    criterion, grade : str
        The grade is a word of ``GRADES``.
    reason, by : str
    """

    criterion: str
    grade: str
    reason: str = ""
    by: str = ""

    def __post_init__(self) -> None:
        if self.grade not in GRADES:
            raise InputError(field="grade", got=self.grade, allowed=", ".join(GRADES))

    @property
    def words(self) -> str:
        """The grade with its reason.

        Examples
        --------
        >>> Graded(criterion="rarity", grade="some", reason="a few are left").words
        'rarity, some: a few are left'
        """
        return f"{self.criterion}, {self.grade}: {self.reason}"

    @property
    def counts(self) -> int:
        """What the grade counts."""
        return GRADES[self.grade]


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One grade in the sum: the criterion's weight times what the grade counts."""

    graded: Graded
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Significance:
    """The weight that graded criteria give a piece, with every term of the sum.

    Parameters
    ----------
    terms : tuple of Term
        Grades whose criteria count, in the order of the criteria.
    value : float
        Rounded to the hundredth, half up.
    """

    terms: tuple[Term, ...]
    value: float

    @property
    def sum_in_words(self) -> str:
        """The sum as anyone can follow it.

        Examples
        --------
        >>> graded = (Graded(criterion="rarity", grade="exceptional"),
        ...           Graded(criterion="historic", grade="some"))
        >>> found = significance(graded, criteria=SUPPLIED)
        >>> found.sum_in_words
        '(1 × 1 + 1 × 5) / (1 + 1) = 3'
        """
        above = " + ".join(f"{term.weight:g} × {term.graded.counts}" for term in self.terms)
        below = " + ".join(f"{term.weight:g}" for term in self.terms)
        return f"({above}) / ({below}) = {self.value:g}"


def significance(
    graded: Iterable[Graded], *, criteria: Iterable[Criterion] = SUPPLIED
) -> Significance | None:
    """Weight of a piece from its grades; ``None`` where no criterion that counts was graded.

    Parameters
    ----------
    graded : iterable of Graded
        At most one of each criterion; one of a criterion that is not listed counts nothing.
    criteria : iterable of Criterion

    Notes
    -----
    weight = Σ criterion weight · grade / Σ criterion weight, over the criteria that were graded.
    A criterion that nobody graded is left out, not taken for *none*.

    Departure: Significance 2.0 asks for a reasoned statement and gives no numbers; its
    comparative criteria only modify the primary ones. The number here serves nothing but the
    weight of fabric in the choice, and every term of it stays visible.

    References
    ----------
    R. Russell, K. Winkworth, "Significance 2.0: a guide to assessing the significance of
    collections", Collections Council of Australia, 2009 (criteria looked up).
    """
    found = {one.criterion: one for one in graded}
    terms = tuple(
        Term(graded=found[criterion.name], weight=criterion.weight)
        for criterion in criteria
        if criterion.name in found and criterion.weight > 0
    )
    if not terms:
        return None
    # The decimals that were written, as elsewhere in the choice: 0.1 and 0.2 are 0.3.
    weights = [Decimal(repr(term.weight)) for term in terms]
    above = sum(
        (w * term.graded.counts for w, term in zip(weights, terms, strict=True)), Decimal(0)
    )
    mean = above / sum(weights, Decimal(0))
    return Significance(terms=terms, value=float(mean.quantize(HUNDREDTH, rounding=ROUND_HALF_UP)))
