"""Exact sums of a choice: every amount as a whole number of its own unit, no rounding."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from asfound.base import InputError
from asfound.choose.couplings import Opening
from asfound.choose.exactly import exact
from asfound.choose.problem import Link, Option, Problem

Key = tuple[str, str]
"""A subject and one of its options."""

Shares = tuple[tuple[int, Link], ...]
"""The ``shares`` rows that save something, with their place among the links."""


def whole(values: Iterable[Fraction]) -> Fraction:
    """The largest unit of which every value is a whole number; 1 when all are zero."""
    found = [v for v in values if v]
    if not found:
        return Fraction(1)
    denominator = math.lcm(*(v.denominator for v in found))
    steps = (v.numerator * (denominator // v.denominator) for v in found)
    return Fraction(math.gcd(*steps), denominator)


def _steps(value: Fraction, unit: Fraction) -> int:
    """How many units a value is, which is a whole number of them."""
    return value.numerator * unit.denominator // (value.denominator * unit.numerator)


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
    opened : mapping of int to int
        Steps of each opening, saved for all of its users but one, by its place among the
        openings.
    """

    name: str
    unit: Fraction
    of: Mapping[Key, int]
    saved: Mapping[int, int]
    opened: Mapping[int, int]

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
    openings : tuple of Opening
        Work that is done once for all who need a thing off the car.
    """

    kept: Amount
    cost: Amount
    hours: Amount
    by_trade: Mapping[str, Amount]
    weight: Fraction
    shares: Shares
    openings: tuple[Opening, ...] = ()

    def total(self, amount: Amount, options: Mapping[str, str]) -> int:
        """Steps of ``amount`` over a choice, after what its shares save."""
        spent = sum(amount.of[key] for key in options.items())
        saved = sum(
            amount.saved[place]
            for place, link in self.shares
            if place in amount.saved and both_chosen(link, options)
        )
        return spent - saved - self.opened_once(amount, options, amount.opened)

    def opened_once(self, amount: Amount, options: Mapping[str, str], places: Iterable[int]) -> int:
        """Steps of ``amount`` saved at these openings, each done once however many need it."""
        return sum(
            amount.opened[place] * max(0, self.openings[place].chosen(options) - 1)
            for place in places
            if place in amount.opened
        )

    def most_saved(self, amount: Amount) -> int:
        """Steps of ``amount`` that shared work could save at most."""
        once = sum(
            steps * max(0, len({s for s, _ in self.openings[place].users}) - 1)
            for place, steps in amount.opened.items()
        )
        return sum(amount.saved.values()) + once


def both_chosen(link: Link, options: Mapping[str, str]) -> bool:
    """Whether both ends of a link are in the choice."""
    return (
        options.get(link.subject) == link.option
        and options.get(link.other_subject) == link.other_option
    )


def breaks(link: Link, options: Mapping[str, str]) -> bool:
    """Whether a choice breaks a ``requires``, an ``excludes`` or a ``waits`` with an option."""
    if options.get(link.subject) != link.option or not link.binds:
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
    weights, shares, none = _weights(problem), _shares(problem), Fraction(0)
    return Ledger(
        kept=_amount(
            problem,
            shares,
            "kept",
            lambda o: weights[o.subject] * exact(o.kept),
            lambda _: none,
            lambda _: none,
        ),
        cost=_amount(
            problem,
            shares,
            "cost",
            lambda o: exact(o.cost),
            lambda k: exact(k.saves_cost),
            lambda opening: exact(opening.cost),
        ),
        hours=_amount(
            problem,
            shares,
            "hours",
            lambda o: sum(map(exact, o.hours.values()), none),
            lambda k: exact(k.saves_hours),
            lambda opening: sum(map(exact, opening.hours.values()), none),
        ),
        by_trade={trade: _hours_of(trade, problem, shares) for trade in _trades(problem, shares)},
        weight=Fraction(sum(weights.values())),
        shares=shares,
        openings=problem.openings,
    )


def _weights(problem: Problem) -> dict[str, Fraction]:
    weights = {s.subject: exact(s.weight) for s in problem.subjects}
    if not sum(weights.values()):
        raise InputError(
            field="weight",
            got=0.0,
            allowed="more than zero for at least one subject",
            remedy="Give a weight to each subject whose original fabric matters.",
        )
    return weights


def _shares(problem: Problem) -> Shares:
    return tuple(
        (place, link)
        for place, link in enumerate(problem.links)
        if link.kind == "shares" and (link.saves_cost or link.saves_hours)
    )


def _trades(problem: Problem, shares: Shares) -> list[str]:
    named = {t for o in problem.options for t in o.hours} | {k.trade for _, k in shares}
    named |= {t for opening in problem.openings for t in opening.hours}
    return sorted(t for t in named if t)


def _hours_of(trade: str, problem: Problem, shares: Shares) -> Amount:
    return _amount(
        problem,
        shares,
        f"hours of {trade}",
        lambda o: exact(o.hours.get(trade, 0.0)),
        lambda k: exact(k.saves_hours) if k.trade == trade else Fraction(0),
        lambda opening: exact(opening.hours.get(trade, 0.0)),
    )


def _amount(
    problem: Problem,
    shares: Shares,
    name: str,
    of: Callable[[Option], Fraction],
    saved: Callable[[Link], Fraction],
    opened: Callable[[Opening], Fraction],
) -> Amount:
    plain = {(o.subject, o.option): of(o) for o in problem.options}
    less = {place: saved(link) for place, link in shares}
    once = {place: opened(opening) for place, opening in enumerate(problem.openings)}
    unit = whole([*plain.values(), *less.values(), *once.values()])
    return Amount(
        name=name,
        unit=unit,
        of={key: _steps(v, unit) for key, v in plain.items()},
        saved={place: _steps(v, unit) for place, v in less.items() if v},
        opened={place: _steps(v, unit) for place, v in once.items() if v},
    )
