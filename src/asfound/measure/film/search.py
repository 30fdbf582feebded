"""The state of the search over a panel's histories and its exact conditionals."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from asfound.measure.film import priors
from asfound.measure.film.panel_model import (
    AnyFloats,
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
BLOCK_N = 64


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

    def log_next(self, way: Ints, chosen: Ints) -> tuple[AnyFloats, Floats]:
        """Log weight (c, e) of one more work, and (c,) of none, given the others."""
        a, b = left_over(self.products, self.given(way, chosen))
        w = self.works
        gain = log_gain_of_work(a, b, w)
        gain += w.log_odds.astype(np.float32)
        if not self.gross.any():
            return gain, np.zeros(len(way))
        bare = self.bare(chosen)[:, self.gross]
        missed = bare @ (1 - w.cover[:, self.gross]).T
        none = -priors.GROSS_PENALTY * bare.sum(axis=1)
        gain -= (priors.GROSS_PENALTY * missed).astype(np.float32)
        return gain, none

    def bare(self, chosen: Ints) -> Floats:
        """How far (0-1) a spot is outside every chosen work: (c, n)."""
        out = np.ones((len(chosen), self.works.cover.shape[1]))
        for k in range(chosen.shape[1]):
            e = chosen[:, k]
            out *= np.where((e == NONE)[:, None], 1.0, 1 - self.works.cover[e])
        return out

    def log_slot(self, way: Ints, others: Ints) -> AnyFloats:
        """Log weight (c, e + 1) of what one open slot holds: a work, or, last, none."""
        more, none = self.log_next(way, others)
        odds = self.log_count
        count = (others != NONE).sum(axis=1)
        # A set of works has count! orders among the slots it may sit in.
        slots = others.shape[1] + 1
        ratio = odds[count + 1] - odds[count] - np.log(slots - count) + np.log(count + 1)
        more += ratio[:, None].astype(np.float32)
        return np.hstack([more, none[:, None].astype(np.float32)])

    def redraw_way(self, chosen: Ints) -> tuple[Ints, AnyFloats]:
        """A way for each particle given its works, and the probabilities (c, ways)."""
        a, b = left_over(self.products, self.given(None, chosen), slice(0, 1))
        log_p = self.log_way + log_gain(a, b[:, :1], self.mean_um, self.var)
        p = shares(log_p)
        return pick(p, self.rng), p


def shares(log_p: AnyFloats) -> AnyFloats:
    """Each row of log weights as shares of one."""
    p: AnyFloats = log_p - log_p.max(axis=1, keepdims=True)
    np.exp(p, out=p)
    p /= p.sum(axis=1, keepdims=True)
    return p


def pick(p: AnyFloats, rng: np.random.Generator) -> Ints:
    """One column for each row of probabilities."""
    # First a block of columns, then a column of it: the running sum is what takes time.
    rows, last = np.arange(len(p)), p.shape[1] - 1
    starts = np.arange(0, last + 1, BLOCK_N)
    blocks = np.cumsum(np.add.reduceat(p, starts, axis=1), axis=1)
    mark = rng.random(len(p)) * blocks[:, -1]
    block = np.minimum((blocks < mark[:, None]).sum(axis=1), len(starts) - 1)
    before = np.where(block > 0, blocks[rows, block - 1], 0.0)
    columns = np.minimum(starts[block][:, None] + np.arange(BLOCK_N), last)
    below = before[:, None] + np.cumsum(p[rows[:, None], columns], axis=1)
    return np.asarray(np.minimum(columns[:, 0] + (below < mark[:, None]).sum(axis=1), last))


def systematic(log_w: AnyFloats, n: int, rng: np.random.Generator) -> Ints:
    """``n`` flat indices in proportion to exp(log_w), evenly spread."""
    w = np.exp(log_w - log_w.max()).ravel()
    below = np.cumsum(w)
    marks = (np.arange(n) + rng.random()) / n * below[-1]
    return np.asarray(np.minimum(np.searchsorted(below, marks), w.size - 1))
