"""The state of the search over a panel's histories and its exact conditionals."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from asfound.measure.film import priors
from asfound.measure.film.panel_model import (
    Given,
    Products,
    Works,
    left_over,
    log_gain,
    log_gain_of_work,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
NONE = -1


@dataclass(slots=True, eq=False)
class Search:
    """The state of the search: particles, each a way and an ordered set of works."""

    products: Products
    works: Works
    mean_um: Floats  # (ways,)
    var: Floats
    log_way: Floats
    way: Ints  # what each stands for in priors.LEVEL_WAYS
    log_count: Floats  # log prior of 0, 1, … local works
    gross: NDArray[np.bool_]
    rng: np.random.Generator

    def given(self, way: Ints | None, chosen: Ints) -> Given:
        """The terms of particles: the level if ``way`` is given, and the works chosen.

        An absent work stands as a term whose amount is surely zero.
        """
        absent = chosen == NONE
        e = np.where(absent, 0, chosen)
        shape = self.works.shape[e]
        mean = np.where(absent, 0.0, self.works.mean_um[e])
        var = np.where(absent, 1e-9, self.works.var[e])
        if way is None:
            return Given(shape, mean, var)
        level = np.zeros((len(way), 1), dtype=np.int64)
        return Given(
            np.hstack([level, shape]),
            np.hstack([self.mean_um[way][:, None], mean]),
            np.hstack([self.var[way][:, None], var]),
        )

    def log_next(self, way: Ints, chosen: Ints) -> tuple[Floats, Floats]:
        """Log weight (c, e) of one more work, and (c,) of none, given the others."""
        a, b = left_over(self.products, self.given(way, chosen))
        w = self.works
        gain = log_gain_of_work(a, b, w) + w.log_odds
        if not self.gross.any():
            return gain, np.zeros(len(way))
        bare = self.bare(chosen)[:, self.gross]
        missed = bare @ (1 - w.cover[:, self.gross]).T
        none = -priors.GROSS_PENALTY * bare.sum(axis=1)
        return gain - priors.GROSS_PENALTY * missed, none

    def bare(self, chosen: Ints) -> Floats:
        """How far (0-1) a spot is outside every chosen work: (c, n)."""
        out = np.ones((len(chosen), self.works.cover.shape[1]))
        for k in range(chosen.shape[1]):
            e = chosen[:, k]
            out *= np.where((e == NONE)[:, None], 1.0, 1 - self.works.cover[e])
        return out

    def log_slot(self, way: Ints, others: Ints) -> Floats:
        """Log weight (c, e + 1) of what one open slot holds: a work, or, last, none."""
        more, none = self.log_next(way, others)
        odds = self.log_count
        count = (others != NONE).sum(axis=1)
        # A set of works has count! orders among the slots it may sit in.
        slots = others.shape[1] + 1
        ratio = odds[count + 1] - odds[count] - np.log(slots - count) + np.log(count + 1)
        return np.hstack([more + ratio[:, None], none[:, None]])

    def redraw_way(self, chosen: Ints) -> tuple[Ints, Floats]:
        """A way for each particle given its works, and the probabilities (c, ways)."""
        a, b = left_over(self.products, self.given(None, chosen), slice(0, 1))
        log_p = self.log_way + log_gain(a, b[:, :1], self.mean_um, self.var)
        p = shares(log_p)
        return pick(p, self.rng), p


def shares(log_p: Floats) -> Floats:
    """Each row of log weights as shares of one."""
    p = np.exp(log_p - log_p.max(axis=1, keepdims=True))
    return np.asarray(p / p.sum(axis=1, keepdims=True))


def pick(p: Floats, rng: np.random.Generator) -> Ints:
    """One column for each row of probabilities."""
    below = np.cumsum(p, axis=1)
    u = rng.random(len(p)) * below[:, -1]
    return np.asarray(np.minimum((below < u[:, None]).sum(axis=1), p.shape[1] - 1))


def systematic(log_w: Floats, n: int, rng: np.random.Generator) -> Ints:
    """``n`` flat indices in proportion to exp(log_w), evenly spread."""
    w = np.exp(log_w - log_w.max()).ravel()
    below = np.cumsum(w)
    marks = (np.arange(n) + rng.random()) / n * below[-1]
    return np.asarray(np.minimum(np.searchsorted(below, marks), w.size - 1))
