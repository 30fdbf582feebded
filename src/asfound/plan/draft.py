"""A plan on the shop's scale of ticks, as greedy planning and the solver hand it about."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A plan on the shop's scale.

    Parameters
    ----------
    start, end : mapping of str to int
        By task [tick].
    crews : mapping of str to (mapping of int to int)
        How many people of each crew, by task.
    """

    start: Mapping[str, int]
    end: Mapping[str, int]
    crews: Mapping[str, Mapping[int, int]]

    @property
    def finish(self) -> int:
        """Last end [tick]."""
        return max(self.end.values(), default=0)
