"""Days by which each event has happened in a share of all consistent histories."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.random import Generator

from asfound.weigh.dates.count import count_all, few_enough
from asfound.weigh.dates.draw import draw
from asfound.weigh.dates.finite import Closed
from asfound.weigh.dates.tree import count_tree, days_at

LEVELS = (0.05, 0.50, 0.95)
MOST_DAYS_COUNTED = 8_000_000
"""A part whose windows hold more days together is drawn from, tree or not."""

MOST_SPAN_DAYS = 4_000_000
"""A part that reaches over more, some eleven thousand years, has no likely days."""

How = Literal["counted", "drawn"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Likely:
    """Days by which an event has happened in 5, 50 and 95 % of all consistent histories.

    Parameters
    ----------
    p05, p50, p95 : int
        Day numbers.
    how : {"counted", "drawn"}
        Counted exactly, or estimated from histories drawn at random.
    u_days : float
        Largest standard error of the three; zero where they were counted.
    """

    p05: int
    p50: int
    p95: int
    how: How
    u_days: float = 0.0


def likely_days(parts: Iterable[Closed], *, seed: int) -> dict[str, Likely]:
    """Likely days of every event of the parts.

    Parameters
    ----------
    parts : iterable of Closed
        Components of a history, each drawn or counted by itself.
    seed : int
        Of the draws, where some are needed.

    Notes
    -----
    Every consistent history counts the same. That is a choice, not knowledge: with many events
    in an order it draws the outer ones apart, so a result is never better than the statements
    that go in.

    References
    ----------
    Buck and Juarez, Bayesian radiocarbon modelling for beginners, arXiv 1704.07141 (2017), on
    not using such a model as a black box.
    """
    rng = np.random.default_rng(seed)
    likely: dict[str, Likely] = {}
    for part in parts:
        likely.update(_of_part(part, rng))
    return likely


def _of_part(part: Closed, rng: Generator) -> dict[str, Likely]:
    if max(part.lasts) - min(part.firsts) > MOST_SPAN_DAYS:
        return {}
    few = sum(part.widths) <= MOST_DAYS_COUNTED
    if few and part.is_tree:
        shares = count_tree(part)
    elif few_enough(part):
        shares = count_all(part)
    else:
        drawn = draw(part, levels=LEVELS, rng=rng)
        return {
            event: Likely(p05=d[0], p50=d[1], p95=d[2], how="drawn", u_days=max(u))
            for event, d, u in zip(part.events, drawn.days, drawn.u_days, strict=True)
        }
    days = (days_at(s, f, levels=LEVELS) for s, f in zip(shares, part.firsts, strict=True))
    return {
        event: Likely(p05=d[0], p50=d[1], p95=d[2], how="counted")
        for event, d in zip(part.events, days, strict=True)
    }
