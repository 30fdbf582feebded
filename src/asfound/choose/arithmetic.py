"""Exact sums of a choice: every amount as a whole number of its own unit, no rounding."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from asfound.base import InputError
from asfound.choose.problem import Link, Option, Problem

Key = tuple[str, str]
"""A subject and one of its options."""

Shares = tuple[tuple[int, Link], ...]
"""The ``shares`` rows that save something, with their place among the links."""


def exact(value: float) -> Fraction:
    """The decimal that a person wrote, not the binary neighbour that stands for it.

    Examples
    --------
    >>> exact(0.1) * 3 == exact(0.3)
    True
    """
    return Fraction(repr(float(value)))


def whole(values: Iterable[Fraction]) -> Fraction:
    """The largest unit of which every value is a whole number; 1 when all are zero."""
    found = [v for v in values if v]
    if not found:
        return Fraction(1)
    denominator = math.lcm(*(v.denominator for v in found))
    return Fraction(math.gcd(*(int(v * denominator) for v in found)), denominator)


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """One thing that is summed over a choice: fabric kept, money, or hours.

    Parameters
    ----------
    name : str
        What it is, in words.
    unit : Fraction
        What one whole step is worth.
    of : mapping of (subject, option) to int
        Steps of each option.
    saved : mapping of int to int
        Steps saved by each ``shares`` row, by its place among the links.
    """

    name: str
    unit: Fraction
    of: Mapping[Key, int]
    saved: Mapping[int, int]

    def most_steps(self, limit: Fraction) -> int:
        """The largest whole number of steps that does not pass ``limit``."""
        return math.floor(limit / self.unit)

    def value(self, steps: int) -> Fraction:
        """What that many steps are worth."""
        return steps * self.unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """Every amount of one problem in whole steps.

    Parameters
    ----------
    kept : Amount
        Weight times share kept; divide by ``weight`` for the share over the car.
    cost, hours : Amount
        Money, and hours of all trades together.
    by_trade : mapping of str to Amount
        Hours of each trade.
    weight : Fraction
        Sum of all weights.
    shares : tuple of (int, Link)
        The ``shares`` rows that save something, with their place among the links.
    """

    kept: Amount
    cost: Amount
    hours: Amount
    by_trade: Mapping[str, Amount]
    weight: Fraction
    shares: Shares

    def total(self, amount: Amount, options: Mapping[str, str]) -> int:
        """Steps of ``amount`` over a choice, after what its shares save."""
        spent = sum(amount.of[key] for key in options.items())
        return spent - sum(
            amount.saved[place]
            for place, link in self.shares
            if place in amount.saved and both_chosen(link, options)
        )


def both_chosen(link: Link, options: Mapping[str, str]) -> bool:
    """Whether both ends of a link are in the choice."""
    return (
        options.get(link.subject) == link.option
        and options.get(link.other_subject) == link.other_option
    )


def breaks(link: Link, options: Mapping[str, str]) -> bool:
    """Whether a choice breaks a ``requires`` or an ``excludes``."""
    if options.get(link.subject) != link.option or link.kind == "shares":
        return False
    other = options.get(link.other_subject) == link.other_option
    return other if link.kind == "excludes" else not other


def open_ledger(problem: Problem) -> Ledger:
    """The ledger of a problem.

    Raises
    ------
    InputError
        If all weights are zero, for then no share of original fabric is defined.
    """
    weights = {s.subject: exact(s.weight) for s in problem.subjects}
    if not sum(weights.values()):
        raise InputError(
            field="weight",
            got=0.0,
            allowed="more than zero for at least one subject",
            remedy="Give a weight to each subject whose original fabric matters.",
        )
    shares = tuple(
        (place, link)
        for place, link in enumerate(problem.links)
        if link.kind == "shares" and (link.saves_cost or link.saves_hours)
    )
    trades = sorted({t for o in problem.options for t in o.hours} | {k.trade for _, k in shares})
    trades = [t for t in trades if t]

    none = Fraction(0)
    return Ledger(
        kept=_amount(
            problem, shares, "kept", lambda o: weights[o.subject] * exact(o.kept), lambda _: none
        ),
        cost=_amount(
            problem, shares, "cost", lambda o: exact(o.cost), lambda k: exact(k.saves_cost)
        ),
        hours=_amount(
            problem,
            shares,
            "hours",
            lambda o: sum(map(exact, o.hours.values()), none),
            lambda k: exact(k.saves_hours),
        ),
        by_trade={trade: _hours_of(trade, problem, shares) for trade in trades},
        weight=Fraction(sum(weights.values())),
        shares=shares,
    )


def _hours_of(trade: str, problem: Problem, shares: Shares) -> Amount:
    return _amount(
        problem,
        shares,
        f"hours of {trade}",
        lambda o: exact(o.hours.get(trade, 0.0)),
        lambda k: exact(k.saves_hours) if k.trade == trade else Fraction(0),
    )


def _amount(
    problem: Problem,
    shares: Shares,
    name: str,
    of: Callable[[Option], Fraction],
    saved: Callable[[Link], Fraction],
) -> Amount:
    plain = {(o.subject, o.option): of(o) for o in problem.options}
    less = {place: saved(link) for place, link in shares}
    unit = whole([*plain.values(), *less.values()])
    return Amount(
        name=name,
        unit=unit,
        of={key: int(v / unit) for key, v in plain.items()},
        saved={place: int(v / unit) for place, v in less.items() if v},
    )
