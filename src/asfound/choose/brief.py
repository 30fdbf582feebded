"""The owner's limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from asfound.choose.lawful import at_least_zero


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """The owner's limits; ``None`` or absent means no limit.

    Parameters
    ----------
    name : str
    cost_max : float or None
        In the car's currency.
    hours_max : mapping of str to float
        Hours by trade.
    min_grade : mapping of str to float
        Lowest finish by zone; a subject's floor is the higher of its own and its zone's.
    note : str
    untouched : frozenset of str
        Zones and single pieces that must not be touched.
    needs_evidence : frozenset of str
        Treatments that are chosen only for pieces with evidence of their earlier state.
    """

    name: str = ""
    cost_max: float | None = None
    hours_max: Mapping[str, float] = field(default_factory=dict)
    min_grade: Mapping[str, float] = field(default_factory=dict)
    note: str = ""
    untouched: frozenset[str] = frozenset()
    needs_evidence: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        if self.cost_max is not None:
            at_least_zero("cost_max", self.cost_max)
        for trade, hours in self.hours_max.items():
            at_least_zero(f"hours_max of {trade}", hours)
        for zone, grade in self.min_grade.items():
            at_least_zero(f"min_grade of {zone}", grade)
