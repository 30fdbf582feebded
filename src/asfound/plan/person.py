"""People with their trades and working time, and bays with their places."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import InputError
from asfound.plan.working_time import WorkingTime


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
    """A kind of working place, ``count`` of it."""

    bay: str
    count: int

    def __post_init__(self) -> None:
        if self.count < 0:
            raise InputError(field="count", got=self.count, allowed="zero or more")
