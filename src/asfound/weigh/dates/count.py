"""Days of events over all consistent histories, by looking at every one of them."""

from __future__ import annotations

import math

import numpy as np

from asfound.weigh.dates.finite import Closed
from asfound.weigh.dates.tree import Shares

MOST_HISTORIES = 300_000
"""So many histories are looked at one by one; of more, some are drawn."""


def few_enough(part: Closed) -> bool:
    """Whether every combination of days can be looked at."""
    return math.prod(part.widths) <= MOST_HISTORIES


def count_all(part: Closed) -> tuple[Shares, ...]:
    """Share of all consistent histories that put each event on each day of its window.

    Parameters
    ----------
    part : Closed
        With few enough combinations of days.

    Returns
    -------
    tuple of ndarray
        Per event the shares of its days, in order; they sum to one.
    """
    places = np.indices(part.widths).reshape(len(part.events), -1)
    days = dict(zip(part.events, places + np.array(part.firsts)[:, None], strict=True))
    holds = np.ones(places.shape[1], dtype=bool)
    for link in part.links:
        start, end = days[link.start], days[link.end]
        if link.least is not None:
            holds &= end >= link.least.ahead_of(start)
        if link.most is not None:
            holds &= end <= link.most.ahead_of(start)
    kept = places[:, holds]
    return tuple(
        np.bincount(row, minlength=width) / kept.shape[1]
        for row, width in zip(kept, part.widths, strict=True)
    )
