"""Works that touch: which work of one history is which of another's, so that each can be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
ROUNDS_N = 2
WITHIN = 0.5  # of a work's places lie in another: the two are one
WITHIN_MOST = 0.2  # of the smaller of two works lies in the other
LEAST_LIKELY = 0.3  # of a count of works, or more, before so many are tried


def put_together(works: Flags) -> Flags:
    """``works`` (s, k, m) with those of a history put together of which one lies in the other.

    A real edge fits no shape of ours, so that one work is often told as one upon another.
    """
    out = works.copy()
    for one, other in permutations(range(works.shape[1]), 2):
        size = np.minimum(out[:, one].sum(axis=1), out[:, other].sum(axis=1))
        both = (out[:, one] & out[:, other]).sum(axis=1)
        same = both > WITHIN * size
        out[same, one] |= out[same, other]
        out[same, other] = False
    return out


def one_by_one(works: Flags, weight: Floats) -> Iterator[Floats]:
    """Where each of two, three … works lies: a map (works, m) of probabilities for every count.

    Parameters
    ----------
    works : array of bool, shape (s, k, m)
        The places of a panel that each work of every history covers; none for a work that is not.
    weight : array, shape (s,)
        Of every history.

    Notes
    -----
    The history that overlaps its like most numbers the works. In every other history each work
    gets the number of the map that it overlaps most (the best of all ways to number them), then
    the maps are the mean of what carries their number, and so on for a few rounds.
    """
    number = works.any(axis=2).sum(axis=1)
    for count in range(2, int(number.max(initial=0)) + 1):
        having = np.flatnonzero(number == count)
        if not having.size or weight[number >= count].sum() < LEAST_LIKELY:
            continue
        covered = np.asarray(works[having].any(axis=1))
        middle = having[int(np.argmax(_overlap(covered, covered) @ weight[having]))]
        maps = works[middle][works[middle].any(axis=1)].astype(np.float64)
        for _ in range(ROUNDS_N):
            maps = _numbered(works, weight, maps)
        if _beside(maps >= LEAST_LIKELY):
            yield maps


def _beside(works: Flags) -> bool:
    """Whether no work (k, m) lies within another: works upon works may be one of an odd shape."""
    held = works.astype(np.float64)
    size = held.sum(axis=1)
    within = held @ held.T / np.maximum(np.minimum.outer(size, size), 1.0)
    return bool(within[~np.eye(len(works), dtype=bool)].max() < WITHIN_MOST)


def _numbered(works: Flags, weight: Floats, maps: Floats) -> Floats:
    histories_n, slots_n, places_n = works.shape
    overlap = _overlap(works.reshape(-1, places_n), maps).reshape(histories_n, slots_n, len(maps))
    ways = np.array(list(permutations(range(slots_n), len(maps))))
    best = ways[overlap[:, ways, np.arange(len(maps))].sum(axis=2).argmax(axis=1)]
    numbered = works[np.arange(histories_n)[:, None], best]
    return np.asarray(np.tensordot(weight, numbered, axes=1))


def _overlap(a: NDArray[Any], b: NDArray[Any]) -> Floats:
    """Intersection over union of every row of ``a`` (i, m) with every row of ``b`` (j, m)."""
    a, b = a.astype(np.float32), b.astype(np.float32)  # the products of flags would be flags
    both = a @ b.T
    either = a.sum(axis=1)[:, None] + b.sum(axis=1) - both
    return np.asarray(both / np.maximum(either, 1e-9), dtype=np.float64)


def expected_overlap(works: Flags, weight: Floats, drawn: Sequence[Flags]) -> float:
    """How far outlines, each told as the places it holds, are expected to overlap the works.

    The mean, over the works of every history, of the overlap with the outline that fits it best.
    """
    if not drawn:
        return 0.0
    there = works.any(axis=2)
    best = _overlap(works[there], np.array(drawn)).max(axis=1)
    of_each = np.broadcast_to(weight[:, None], there.shape)[there]
    return float(of_each @ best / of_each.sum())
