"""Dates that a part bears: cast, machined, assembled, and the car built."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

from asfound.base import InputError

STAGES = ("casting", "machining", "assembly", "build")
"""In the order in which they happen: none can come before the one ahead of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageDate:
    """When a stage may have happened.

    Parameters
    ----------
    stage : str
        One of ``STAGES``.
    text : str
        The date as it was read.
    first_day, last_day : int or None
        First and last day that the date allows, as day numbers; ``None`` where open.
    """

    stage: str
    text: str
    first_day: int | None
    last_day: int | None

    def __post_init__(self) -> None:
        if self.stage not in STAGES:
            raise InputError(field="stage", got=self.stage, allowed=", ".join(STAGES))


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderBroken:
    """Two stages of which the earlier cannot have come first."""

    earlier: StageDate
    later: StageDate

    @property
    def words(self) -> str:
        """The clash in words."""
        return (
            f"{self.earlier.stage} {self.earlier.text} lies after "
            f"{self.later.stage} {self.later.text}"
        )


def broken_orders(dates: Iterable[StageDate]) -> tuple[OrderBroken, ...]:
    """Pairs of stages whose order no day within their dates can keep.

    Notes
    -----
    Casting ≤ machining ≤ assembly ≤ build. Dates that overlap keep it; a stage may fall on the
    day of the next. Each pair is held, also where a stage between them is not known.

    Examples
    --------
    >>> cast = StageDate(stage="casting", text="1959", first_day=-4018, last_day=-3654)
    >>> built = StageDate(stage="build", text="1957", first_day=-4748, last_day=-4384)
    >>> broken_orders((cast, built))[0].words
    'casting 1959 lies after build 1957'
    """
    known = sorted(dates, key=lambda date: STAGES.index(date.stage))
    return tuple(
        OrderBroken(earlier=one, later=two)
        for one, two in combinations(known, 2)
        if one.stage != two.stage
        and one.first_day is not None
        and two.last_day is not None
        and one.first_day > two.last_day
    )
