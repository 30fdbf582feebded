"""Where pieces and the lines between them lie when a car is drawn in the order it comes apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

ROW, LANE = 22.0, 9.0
_SWEEPS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A line from what comes off first to what comes off after it."""

    first: str
    after: str
    optional: bool = False


@dataclass(slots=True, kw_only=True)
class Spot:
    """A piece, or the lane that a long line takes through a column.

    Parameters
    ----------
    column : int
        0 for what comes off at once.
    name : str
        Empty for a lane.
    y : float
        Middle, in drawing units.
    """

    column: int
    name: str
    y: float = 0.0
    before: list[Spot] = field(default_factory=list)
    behind: list[Spot] = field(default_factory=list)

    @property
    def height(self) -> float:
        """Room that it takes."""
        return ROW if self.name else LANE


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """A drawing's columns, and the way of each line through them."""

    columns: tuple[tuple[Spot, ...], ...]
    lines: tuple[tuple[Tie, tuple[Spot, ...]], ...]
    height: float


def lay_out(
    sequence: Sequence[str], ties: Iterable[Tie], *, wave: Mapping[str, int] | None = None
) -> Layers:
    """Columns by how much must be off before, ordered so that lines cross little.

    Parameters
    ----------
    sequence : sequence of str
        Pieces, each after what comes off before it.
    ties : iterable of Tie
        Only those whose pieces stand in this order are drawn; what follows from others is left
        out.
    wave : mapping of str to int, optional
        Column of each piece, 0 or more, where it is settled; ties that lead back are left out.
    """
    kept = needed(ties, sequence)
    level = dict(wave) if wave else _levels(kept, sequence)
    kept = [tie for tie in kept if level[tie.first] < level[tie.after]]
    spots = {name: Spot(column=level[name], name=name) for name in sequence}
    columns: list[list[Spot]] = [[] for _ in range(max(level.values(), default=0) + 1)]
    for spot in spots.values():
        columns[spot.column].append(spot)
    lines = [(tie, _line(spots[tie.first], spots[tie.after], columns)) for tie in kept]
    _uncross(columns)
    height = max((sum(s.height for s in column) for column in columns), default=0.0)
    height = _settle(columns, height)
    return Layers(columns=tuple(map(tuple, columns)), lines=tuple(lines), height=height)


def _levels(ties: Sequence[Tie], sequence: Sequence[str]) -> dict[str, int]:
    level = dict.fromkeys(sequence, 0)
    for name in sequence:
        firsts = (level[tie.first] + 1 for tie in ties if tie.after == name)
        level[name] = max(firsts, default=0)
    return level


def needed(ties: Iterable[Tie], sequence: Sequence[str]) -> list[Tie]:
    """Ties between pieces in this order, without those that follow from a chain of others."""
    place = {name: i for i, name in enumerate(sequence)}
    ties = [t for t in ties if place.get(t.first, len(place)) < place.get(t.after, -1)]
    firsts: dict[str, set[str]] = {name: set() for name in sequence}
    for tie in ties:
        firsts[tie.after].add(tie.first)
    behind: dict[str, set[str]] = {}
    for name in sequence:
        behind[name] = set().union(*(behind[f] | {f} for f in firsts[name]))
    return [
        tie
        for tie in dict.fromkeys(ties)
        if tie.optional
        or not any(tie.first in behind[other] for other in firsts[tie.after] - {tie.first})
    ]


def _line(first: Spot, after: Spot, columns: list[list[Spot]]) -> tuple[Spot, ...]:
    path = [first]
    for column in range(first.column + 1, after.column):
        lane = Spot(column=column, name="")
        columns[column].append(lane)
        path.append(lane)
    path.append(after)
    for one, two in pairwise(path):
        one.behind.append(two)
        two.before.append(one)
    return tuple(path)


def _uncross(columns: list[list[Spot]]) -> None:
    """Each column in the order of the middle of what its spots hang on, to and fro."""
    for sweep in range(_SWEEPS):
        forward = sweep % 2 == 0
        order: Mapping[int, int] = {id(s): i for column in columns for i, s in enumerate(column)}
        for column in columns if forward else reversed(columns):
            column.sort(key=lambda s, o=order, f=forward: _middle(s, o, f))  # type: ignore[misc]
            order = {**order, **{id(s): i for i, s in enumerate(column)}}


def _middle(spot: Spot, order: Mapping[int, int], forward: bool) -> float:
    hangs_on = spot.before if forward else spot.behind
    if not hangs_on:
        return float(order[id(spot)])
    return sum(order[id(other)] for other in hangs_on) / len(hangs_on)


def _settle(columns: list[list[Spot]], height: float) -> float:
    """Each spot as near as can be to the height of what it hangs on."""
    bottom = 0.0
    for column in columns:
        room = height - sum(s.height for s in column)
        y = 0.0
        for spot in column:
            wish = (
                sum(b.y for b in spot.before) / len(spot.before) - spot.height / 2
                if spot.before
                else y
            )
            shift = min(max(wish - y, 0.0), room)
            room -= shift
            spot.y = y + shift + spot.height / 2
            y += shift + spot.height
        bottom = max(bottom, y)
    return bottom
