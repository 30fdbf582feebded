"""Items of one cause: which follow on which, and which of them counts."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from asfound.base import InputError
from asfound.weigh.evidence.item import Item, same_words


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedRatio:
    """An item with the ratio that may count for it: its own, held to the cap if by eye."""

    item: Item
    lr: float

    @property
    def is_capped(self) -> bool:
        """Whether the cap took something of the ratio."""
        return self.lr != self.item.lr


Chain = tuple[CountedRatio, ...]
"""An item, the one stated given it, and so on: together one ratio, by the chain rule."""


def chains_of(ratios: Sequence[CountedRatio]) -> tuple[Chain, ...]:
    """Items in chains, each begun by an item that is conditional on none.

    Raises
    ------
    InputError
        If an item is conditional on one that cannot carry it.
    """
    for place, rule in condition_faults([ratio.item for ratio in ratios]):
        raise InputError(field="given", got=ratios[place].item.given, allowed=rule)
    next_of = {(_cause(r.item), same_words(r.item.given)): r for r in ratios if r.item.given}
    return tuple(_followed(ratio, next_of) for ratio in ratios if not ratio.item.given)


def _followed(ratio: CountedRatio, next_of: dict[tuple[str, str], CountedRatio]) -> Chain:
    chain = [ratio]
    while found := next_of.get((_cause(chain[-1].item), same_words(chain[-1].item.item))):
        chain.append(found)
    return tuple(chain)


def strongest(chains: Sequence[Chain]) -> Chain:
    """Chain whose ratio is furthest from one.

    Of two equally far on both sides of one, that against the statement: an originality that
    hangs in the balance is not claimed.
    """
    return max(chains, key=lambda chain: (round(abs(log_of(chain)), 12), -log_of(chain)))


def log_of(chain: Chain) -> float:
    """Natural logarithm of the joint ratio of a chain.

    Notes
    -----
    P(E1, E2 | H) = P(E1 | H) · P(E2 | E1, H), so the ratios of a chain multiply.
    """
    return math.fsum(math.log(ratio.lr) for ratio in chain)


def condition_faults(items: Sequence[Item]) -> Iterator[tuple[int, str]]:
    """Items conditional on what cannot carry them: their place, and what would be allowed."""
    named = Counter((_cause(item), same_words(item.item)) for item in items)
    followed = Counter((_cause(item), same_words(item.given)) for item in items if item.given)
    for place, item in enumerate(items):
        if not item.given:
            continue
        condition = (_cause(item), same_words(item.given))
        if named[condition] != 1:
            yield place, "the words of exactly one other item of the same cause and statement"
        elif followed[condition] > 1:
            yield place, "an item that no other is given: state the third given the second"
        elif _circles(item, items):
            yield place, "an item that does not in the end depend on this one"


def _circles(item: Item, items: Sequence[Item]) -> bool:
    by_words = {(_cause(i), same_words(i.item)): i for i in items}
    here: Item | None = item
    for _ in items:
        here = by_words.get((_cause(item), same_words(here.given))) if here and here.given else None
    return here is not None


def _cause(item: Item) -> str:
    return same_words(item.cause)
