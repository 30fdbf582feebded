"""People with their trades and working time, and bays with their places."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import InputError
from asfound.plan.working_time import DAY_MIN, WorkingTime


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Someone who works on one task at a time.

    Parameters
    ----------
    person : str
    trades : tuple of str
    time : WorkingTime
    """

    person: str
    trades: tuple[str, ...]
    time: WorkingTime


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """A kind of working place, ``count`` of it.

    Parameters
    ----------
    bay : str
    count : int
        Zero or more.
    closed : tuple of (int, int)
        First and last day on which one of the places cannot be used, counted from the plan's
        first day; the same days twice for two places.
    """

    bay: str
    count: int
    closed: tuple[tuple[int, int], ...] = ()

    def __post_init__(self) -> None:
        if self.count < 0:
            raise InputError(field="count", got=self.count, allowed="zero or more")
        for first, last in self.closed:
            if last < first:
                raise InputError(field="closed", got=(first, last), allowed="first day, last day")

    def shut_until_min(self, time_min: int) -> int:
        """Last moment [min] up to a time at which not one of its places could be used; 0 for none.

        Examples
        --------
        >>> Bay(bay="booth", count=1, closed=((2, 3),)).shut_until_min(10 * DAY_MIN) / DAY_MIN
        4.0
        """
        ends = [(last + 1) * DAY_MIN for _, last in self.closed]
        return max((end for end in ends if end <= time_min and self._all_shut(end - 1)), default=0)

    def _all_shut(self, time_min: int) -> bool:
        day = time_min // DAY_MIN
        return sum(first <= day <= last for first, last in self.closed) >= self.count
