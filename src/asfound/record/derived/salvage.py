"""Pieces of the salvage stock held against what a car needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from asfound.craft.salvage import Match
from asfound.record.convert.salvage import StockState, matches_of
from asfound.record.derived.kept import kept, key_of
from asfound.record.folder import CarFolder


def salvage_matches(need: Mapping[str, str], stock: Sequence[StockState]) -> tuple[Match, ...]:
    """Pieces of the salvage stock held against a need, the best first.

    Raises
    ------
    InputError
        If the need asks what cannot be.
    """
    told = [state.told() for state in stock]
    key = key_of("salvage_matches", CarFolder(), (), need=dict(need), stock=told)
    return kept(key, lambda: matches_of(need, stock))
