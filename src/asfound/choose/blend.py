"""Several aims in one search: kept first, cost on ties, hours on ties of both.

A step of kept weighs as much as many steps of cost. When it outweighs all that cost could still
change, the best blend is the best in turn; whether it does is checked afterwards with whole
numbers. One search then does the work of three, and the second and third, in which the earlier
aims are held fast, are by far the hardest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from asfound.choose.arithmetic import Amount, Ledger
from asfound.choose.model import Model

_ROOM = 2**42  # a blend's sum stays below this, far within what the solver tells apart
_PARTS = 512  # at first a step of kept is worth this part of the range of cost, or more


@dataclass(frozen=True, slots=True, kw_only=True)
class Blend:
    """What one step of each aim is worth in steps of the next.

    Parameters
    ----------
    cost_steps : int
        Steps of cost that one step of kept outweighs; 0 leaves cost out.
    hours_steps : int
        Steps of hours that one step of cost outweighs; 0 leaves hours out.
    """

    cost_steps: int = 0
    hours_steps: int = 0

    def goals(self, ledger: Ledger) -> tuple[tuple[Amount, int], ...]:
        """Amounts and factors whose least sum is the aim."""
        one_cost = max(1, self.hours_steps)
        goals = [(ledger.kept, -max(1, self.cost_steps) * one_cost)]
        if self.cost_steps:
            goals.append((ledger.cost, one_cost))
        if self.hours_steps:
            goals.append((ledger.hours, 1))
        return tuple(goals)

    def proved(self, model: Model, options: Mapping[str, str]) -> int:
        """How many aims, from the first, the blend's best choice ``options`` proves.

        Notes
        -----
        With A = M·kept − cost and N·A − hours at its most, any choice has A at most the found A
        plus d = ⌊(highest hours − found hours) / N⌋, and keeps at most the found steps plus
        ⌊(highest cost − found cost + d) / M⌋.
        """
        if not self.cost_steps:
            return 1
        ledger = model.ledger
        doubt = 0
        if self.hours_steps:
            doubt = (_most_hours(model) - ledger.total(ledger.hours, options)) // self.hours_steps
        room = model.highest(ledger.cost) - ledger.total(ledger.cost, options)
        if room + doubt >= self.cost_steps:
            return 0
        if doubt > 0:
            return 1
        return 3 if self.hours_steps else 2

    def most_kept(self, model: Model, bound: float) -> float:
        """Steps of kept that no choice can pass when no blend is below ``bound``."""
        if not math.isfinite(bound):
            return math.inf
        ledger = model.ledger
        one_cost = max(1, self.hours_steps)
        other = _most_hours(model) if self.hours_steps else 0
        other += one_cost * model.highest(ledger.cost) if self.cost_steps else 0
        return (other - bound) / (max(1, self.cost_steps) * one_cost)


def blends(model: Model, *, then_hours: bool) -> Iterator[Blend]:
    """Blends to try until one proves itself; the last aims at kept alone, which always does."""
    ledger = model.ledger
    span = model.highest(ledger.cost) - model.lowest(ledger.cost) + 1
    hours = _most_hours(model) - model.lowest(ledger.hours) + 1
    room = _ROOM // max(1, model.highest(ledger.kept))
    first = min(span, max(2 * _PARTS, span // _PARTS))
    if ledger.cost.name not in {name for name, limit in model.limits().items() if limit[2]}:
        first = span  # nothing holds cost down, so it may be far below its highest
    steps = min(hours, 2 * _PARTS)
    if then_hours and first * steps <= room:
        yield Blend(cost_steps=first, hours_steps=steps)
    if first <= room:
        yield Blend(cost_steps=first)
    if first < span <= room:
        yield Blend(cost_steps=span)
    yield Blend()


def _most_hours(model: Model) -> int:
    """A bound on the hours of all trades that no choice within the limits passes, in steps."""
    ledger = model.ledger
    by_trade = sum((a.value(model.highest(a)) for a in ledger.by_trade.values()), start=0)
    return min(model.highest(ledger.hours), math.floor(by_trade / ledger.hours.unit))
