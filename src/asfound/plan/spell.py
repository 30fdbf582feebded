"""Spells of open time in which some crews are not at work, cut so that in each the same are not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from asfound.plan.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """A spell of open time in which some crews are not at work.

    Parameters
    ----------
    begin, end : int
        Ticks.
    crews : frozenset of int
        Those that are not at work.
    """

    begin: int
    end: int
    crews: frozenset[int]


def breaks_between(shop: Shop, able: Sequence[int], first: int, last: int) -> list[Break]:
    """Breaks of any crew between two ticks, cut so that in each the same crews are missing."""
    spells = {
        crew: [s for s in shop.crews[crew].breaks.spells if s[1] > first and s[0] < last]
        for crew in able
    }
    edges = sorted({edge for several in spells.values() for spell in several for edge in spell})
    missing: dict[int, set[int]] = {edge: set() for edge in edges}
    place = {edge: i for i, edge in enumerate(edges)}
    for crew, several in spells.items():
        for begin, end in several:
            for edge in edges[place[begin] : place[end]]:
                missing[edge].add(crew)
    return [
        Break(begin=begin, end=end, crews=frozenset(missing[begin]))
        for begin, end in pairwise(edges)
        if missing[begin]
    ]
