"""What an account is made of: work, plans and material, and the amounts they come to."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from asfound.base import InputError

_ZERO = Decimal(0)


class Measure(StrEnum):
    """What an amount says."""

    ESTIMATE = "estimate"
    COMMITTED = "committed"
    ACTUAL = "actual"
    REMAINING = "remaining"


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A task, or the hours of a trade in a signed option, and what was worked on it.

    Parameters
    ----------
    piece, trade : str
    hours : Decimal
        Hours of all its people together that it was likeliest to take; 0 or more.
    rate : Decimal
        What the owner is charged an hour, for what is still to be worked.
    worked : tuple of (Decimal, Decimal, Decimal, Decimal or None)
        Hours worked, rate charged [an hour], rate of tax [%] and what the hour costs the
        workshop, stretch by stretch.
    is_done : bool
    what : str
    """

    piece: str
    trade: str
    hours: Decimal
    rate: Decimal
    worked: tuple[tuple[Decimal, Decimal, Decimal, Decimal | None], ...] = ()
    is_done: bool = False
    what: str = ""

    def __post_init__(self) -> None:
        for hours in (self.hours, *(stretch[0] for stretch in self.worked)):
            if hours < 0:
                raise InputError(field="hours", got=f"{hours}", allowed="0 or more")

    @property
    def hours_left(self) -> Decimal:
        """Hours that are still to be worked: none once it is done, or as many are worked."""
        if self.is_done:
            return _ZERO
        return max(self.hours - sum((stretch[0] for stretch in self.worked), _ZERO), _ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """What a signed option sets aside for material and work outside, charged without tax."""

    piece: str
    amount: Decimal
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """Material of the workshop that went into a piece, charged without tax."""

    piece: str
    amount: Decimal
    percent: Decimal
    trade: str = ""
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One amount, charged without tax, in whole minor units.

    ``cost`` is what it costs the workshop, ``None`` where that is not known.
    """

    measure: Measure
    amount: Decimal
    piece: str
    trade: str = ""
    supplier: str = ""
    change: str = ""
    percent: Decimal = _ZERO
    cost: Decimal | None = None
    what: str = ""
