"""Histories of a panel: which works it may carry, drawn in proportion to their probability."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from asfound.measure.film import priors
from asfound.measure.film.panel_model import AnyFloats, log_gain, log_sum
from asfound.measure.film.search import NONE, Floats, Ints, Search, pick, shares, systematic

DRAWS_N = 32
SWEEPS_N = 4
SWEEPS_KEPT = 2
LITTLE = np.log(0.01)  # counts of works less likely than this are not followed


@dataclass(frozen=True, slots=True, eq=False)
class Histories:
    """Weighted histories of one panel.

    ``way`` (s,) is the way of its level, ``works`` (s, k) its local works (−1: none), ``weight``
    sums to one. ``log_odds`` is the log odds of any later work; ``covered`` (n,) the probability
    of later work at each spot and ``by_kind`` (kinds, n) that of each local kind there;
    ``by_way`` the probability of each way; ``works_n`` (e,) how many of each work are expected.
    """

    way: Ints
    works: Ints
    weight: Floats
    log_odds: float
    covered: Floats
    by_kind: Floats
    by_way: Floats
    works_n: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Grown:
    """Histories grown one work at a time, and what the exact sums over none and one say."""

    way: Ints
    chosen: Ints
    log_odds: float
    log_none: Floats
    log_one: Floats

    @property
    def plain(self) -> bool:
        """Whether the exact sums suffice: a second work is out of question, a first in doubt."""
        return self.chosen.shape[1] == 1 and bool(log_sum(self.log_one) < log_sum(self.log_none))


def grow_histories(search: Search) -> Grown:
    """Histories of a panel by growing sets of works one at a time.

    Notes
    -----
    No work and one work are summed exactly. Where a second could matter, a population of
    histories grows by one work at a time, each step drawn from the exact conditional over all
    works, which also estimates the evidence of every count.
    """
    odds = search.log_count
    a0, b0 = search.products.gram[0, 0], search.products.with_y[0]
    level = search.log_way + log_gain(a0, b0, search.mean_um, search.var)
    ways = np.arange(len(level))
    one, none = search.log_next(ways, np.empty((len(ways), 0), dtype=np.int64))
    log_none = level + odds[0] + none
    log_one = level[:, None] + odds[1] + one
    evidence = [log_sum(log_none), log_sum(log_one)]
    flat = systematic(log_one, DRAWS_N, search.rng)
    way, chosen = flat // log_one.shape[1], (flat % log_one.shape[1])[:, None]
    while len(evidence) <= priors.PATCHES_MOST:
        k = len(evidence) - 1
        more, _ = search.log_next(way, chosen)
        grown = log_sum(more) - np.log(len(way))
        evidence.append(evidence[-1] + odds[k + 1] - odds[k] + grown)
        if evidence[-1] - log_sum(evidence) < LITTLE:
            break
        flat = systematic(more, DRAWS_N, search.rng)
        row = flat // more.shape[1]
        way, chosen = way[row], np.hstack([chosen[row], (flat % more.shape[1])[:, None]])
        way, chosen = _refresh(search, way, chosen)
    plain = priors.plain_ways()[search.way]
    touched = log_sum([log_sum(log_none[~plain]), *evidence[1:]])
    log_odds = float(touched - log_sum(log_none[plain]))
    return Grown(way, chosen, log_odds, log_none, log_one)


def _refresh(search: Search, way: Ints, chosen: Ints) -> tuple[Ints, Ints]:
    """Every work and the way redrawn once, the count of works kept."""
    for k in range(chosen.shape[1]):
        log_p, _ = search.log_next(way, np.delete(chosen, k, axis=1))
        chosen = chosen.copy()
        chosen[:, k] = pick(shares(log_p), search.rng)
    return search.redraw_way(chosen)[0], chosen


def one_each(search: Search, grown: Grown) -> Ints:
    """The works of histories with one work each."""
    flat = systematic(grown.log_one, DRAWS_N, search.rng)
    return np.asarray(flat % grown.log_one.shape[1])


def exact_histories(search: Search, grown: Grown) -> Histories:
    """The histories of a panel with no or one work, summed rather than drawn."""
    log_none, log_one = grown.log_none, grown.log_one
    flat = systematic(log_one, DRAWS_N, search.rng)
    total = np.logaddexp(log_sum(log_none), log_sum(log_one))
    p_none, p_one = np.exp(log_none - total), np.exp(log_one - total)
    u = priors.plain_ways()[search.way]
    local = p_one.sum(axis=0)
    by_kind = np.array([(local * (search.works.kind == k)) @ search.works.cover for k in range(3)])
    by_way = p_none + p_one.sum(axis=1)
    covered = 1 - by_way[u].sum() + p_one[u].sum(axis=0) @ search.works.cover
    works_n = log_one.shape[1]
    kept = np.flatnonzero(p_none > 1e-4)
    return Histories(
        way=np.concatenate([kept, flat // works_n]),
        works=np.concatenate([np.full(len(kept), NONE), flat % works_n])[:, None],
        weight=_normal(np.concatenate([p_none[kept], np.full(len(flat), p_one.sum() / len(flat))])),
        log_odds=grown.log_odds,
        covered=np.clip(covered, 0.0, 1.0),
        by_kind=by_kind,
        by_way=_by_way(search, by_way),
        works_n=local,
    )


def _by_way(search: Search, p: Floats) -> Floats:
    return np.bincount(search.way, weights=p).astype(np.float64)


def _normal(weight: Floats) -> Floats:
    return np.asarray(weight / weight.sum())


def redrawn_histories(search: Search, grown: Grown) -> Histories:
    """Histories from redrawing every work and the level in turn, starting at ``grown``.

    Notes
    -----
    Gibbs sampling with the amounts integrated out. Probabilities at spots are averaged over the
    exact conditionals, not over the draws.
    """
    way, chosen = grown.way, _slots(grown.chosen)
    spots_n, slots = search.works.cover.shape[1], chosen.shape[1]
    covered, by_kind = np.zeros(spots_n), np.zeros((3, spots_n))
    by_way, works_n, kept = np.zeros(len(search.log_way)), np.zeros(len(search.works.kind)), []
    for sweep in range(SWEEPS_N):
        keep = sweep >= SWEEPS_N - SWEEPS_KEPT
        for k in range(slots):
            others, p = _redraw(search, way, chosen, k)
            if keep:
                _count(search, way, others, p, covered, by_kind)
                works_n += p[:, :-1].mean(axis=0) / SWEEPS_KEPT
        way, p_way = search.redraw_way(chosen)
        if keep:
            by_way += p_way.mean(axis=0) / SWEEPS_KEPT
            plain = p_way @ priors.plain_ways()[search.way]
            covered += (1 - plain[:, None] * search.bare(chosen)).mean(axis=0)
            kept.append((way, np.sort(chosen, axis=1)[:, ::-1]))
    weight = np.full(len(kept) * len(way), 1 / (len(kept) * len(way)))
    return Histories(
        way=np.concatenate([w for w, _ in kept]),
        works=np.vstack([c for _, c in kept]),
        weight=weight,
        log_odds=grown.log_odds,
        covered=np.clip(covered / (SWEEPS_KEPT * (slots + 1)), 0.0, 1.0),
        by_kind=by_kind / (SWEEPS_KEPT * slots),
        by_way=_by_way(search, by_way),
        works_n=works_n,
    )


def _slots(chosen: Ints) -> Ints:
    """A copy of ``chosen`` with every slot that a panel may fill."""
    empty = np.full((len(chosen), priors.PATCHES_MOST - chosen.shape[1]), NONE)
    return np.hstack([chosen, empty])


def _redraw(search: Search, way: Ints, chosen: Ints, k: int) -> tuple[Ints, AnyFloats]:
    """Redraws slot ``k`` of ``chosen`` in place; the other slots and the slot's shares."""
    others = np.delete(chosen, k, axis=1)
    p = shares(search.log_slot(way, others))
    drawn = pick(p, search.rng)
    chosen[:, k] = np.where(drawn == p.shape[1] - 1, NONE, drawn)
    return others, p


def _count(
    search: Search, way: Ints, others: Ints, p: AnyFloats, covered: Floats, by_kind: Floats
) -> None:
    """Adds the mean over particles of the spots' probabilities, the open slot summed out."""
    cover, kind = search.works.cover, search.works.kind
    bare = search.bare(others)
    plain = priors.plain_ways()[search.way[way]][:, None]
    ends = np.searchsorted(kind, np.arange(4))  # works are listed by kind
    hit = np.array([p[:, a:b] @ cover[a:b] for a, b in pairwise(ends)])
    covered += (1 - plain * bare * (1 - hit.sum(axis=0))).mean(axis=0)
    for k in range(3):
        of_kind = np.where(others == NONE, False, kind[others] == k)
        bare_k = search.bare(np.where(of_kind, others, NONE))
        by_kind[k] += (1 - bare_k * (1 - hit[k])).mean(axis=0)
