"""Rows for boxes: each above all it lies over, with few lines crossing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from asfound.weigh.dates import Order

_SWEEPS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A box, or a place that a long line keeps free in a row that it passes.

    ``way`` tells the lines apart; it is negative for a box.
    """

    group: int
    way: int = -1

    @property
    def is_group(self) -> bool:
        """Whether a box stands here."""
        return self.way < 0


def rows_of(
    order: Order, piece: Sequence[int]
) -> tuple[list[list[Place]], list[tuple[Place, ...]]]:
    """Rows of places from the bottom up, and the ways of the lines from the earlier box up.

    Notes
    -----
    A box is raised until it stands right below the lowest that lies over it, so that lines are
    short; each row is then ordered by the mean place of what its boxes are tied to, below and
    above in turn.

    References
    ----------
    Sugiyama, Tagawa and Toda, Methods for visual understanding of hierarchical system
    structures, IEEE Transactions on Systems, Man, and Cybernetics 11 (1981), 109-125.
    """
    members = set(piece)
    over = [(late, early) for late, early in order.over if late in members]
    level = _raised(order, piece, over)
    rows: list[list[Place]] = [[] for _ in range(max(level.values()) + 1)]
    for group in piece:
        rows[level[group]].append(Place(group=group))
    ways = [_way(number, pair, level) for number, pair in enumerate(over)]
    for way in ways:
        for passed in way[1:-1]:
            rows[level[way[0].group] + way.index(passed)].append(passed)
    _untangle(rows, ways)
    return rows, ways


def _raised(order: Order, piece: Sequence[int], over: Sequence[tuple[int, int]]) -> dict[int, int]:
    lowest = min(order.level[group] for group in piece)
    level = {group: order.level[group] - lowest for group in piece}
    for group in sorted(piece, key=lambda g: -level[g]):
        above = [level[late] for late, early in over if early == group]
        if above:
            level[group] = min(above) - 1
    return level


def _way(number: int, pair: tuple[int, int], level: dict[int, int]) -> tuple[Place, ...]:
    late, early = pair
    passed = range(level[early] + 1, level[late])
    return (
        Place(group=early),
        *(Place(group=row, way=number) for row in passed),
        Place(group=late),
    )


def _untangle(rows: list[list[Place]], ways: Sequence[tuple[Place, ...]]) -> None:
    below: dict[Place, list[Place]] = {}
    above: dict[Place, list[Place]] = {}
    for way in ways:
        for lower, upper in pairwise(way):
            below.setdefault(upper, []).append(lower)
            above.setdefault(lower, []).append(upper)
    for sweep in range(_SWEEPS):
        upward = sweep % 2 == 0
        near = below if upward else above
        for row in rows if upward else reversed(rows):
            at = {p: i - (len(r) - 1) / 2 for r in rows for i, p in enumerate(r)}
            row.sort(key=lambda p, at=at: _mean([at[o] for o in near.get(p, ())], at[p]))  # type: ignore[misc]


def _mean(places: Sequence[float], own: float) -> float:
    return sum(places) / len(places) if places else own
