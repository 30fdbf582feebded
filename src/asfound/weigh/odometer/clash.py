"""Readings that cannot all be as they are written, and which to doubt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from asfound.weigh.odometer.reading import KM_IN, OdometerReading, surely_before

MOST_TO_DOUBT = 3
"""Sets of more readings to doubt are not looked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """The shortest list of readings that contradict, and why; one or two of them."""

    readings: tuple[OdometerReading, ...]
    why: str


def clashes_of(ordered: Sequence[OdometerReading]) -> tuple[Clash, ...]:
    """Every shortest list of readings that contradict as written.

    Parameters
    ----------
    ordered : sequence of OdometerReading
        By date.

    Notes
    -----
    As written, an instrument counts up and its dial shows the whole of it. A figure beyond the
    dial contradicts alone; a figure below one surely read earlier on the same instrument
    contradicts with it. No list of more readings contradicts unless two of them do. A pair that
    holds another between its dates is left out.
    """
    alone = [
        Clash(readings=(r,), why=f"its dial of {r.digits} digits cannot show it")
        for r in ordered
        if r.beyond_dial
    ]
    pairs = list(_falling_pairs(ordered))
    tight = [p for p in pairs if not any(_within(other, p) for other in pairs if other != p)]
    return (*alone, *(_falls(ordered[i], ordered[j]) for i, j in tight))


def to_doubt(ordered: Sequence[OdometerReading]) -> tuple[tuple[OdometerReading, ...], ...]:
    """Smallest sets of readings without which nothing contradicts, all of that size.

    None where nothing contradicts, or where it would take more than ``MOST_TO_DOUBT``.
    """
    lists = [{i} for i, r in enumerate(ordered) if r.beyond_dial]
    lists += [{i, j} for i, j in _falling_pairs(ordered)]
    named = sorted(set().union(*lists)) if lists else []
    for size in range(1, min(MOST_TO_DOUBT, len(named)) + 1):
        found = [s for s in combinations(named, size) if all(set(s) & one for one in lists)]
        if found:
            return tuple(tuple(ordered[i] for i in places) for places in found)
    return ()


def falls(one: OdometerReading, two: OdometerReading) -> bool:
    """Whether the second shows less than the first, by more than rounding to a unit explains."""
    rounding = max(KM_IN[one.unit], KM_IN[two.unit]) if one.unit != two.unit else 0.0
    return two.km < one.km - rounding


def runs_of(ordered: Sequence[OdometerReading]) -> tuple[tuple[int, ...], ...]:
    """Places of readings that follow each other on one instrument."""
    runs: list[list[int]] = []
    for place, reading in enumerate(ordered):
        if runs and ordered[place - 1].instrument == reading.instrument:
            runs[-1].append(place)
        else:
            runs.append([place])
    return tuple(tuple(run) for run in runs)


def _falling_pairs(ordered: Sequence[OdometerReading]) -> Iterator[tuple[int, int]]:
    for run in runs_of(ordered):
        for i, j in combinations(run, 2):
            one, two = ordered[i], ordered[j]
            if one.beyond_dial or two.beyond_dial:
                continue  # contradicts alone; a list that holds it is not the shortest
            if surely_before(one, two) and falls(one, two):
                yield i, j


def _within(inner: tuple[int, int], outer: tuple[int, int]) -> bool:
    return outer[0] <= inner[0] and inner[1] <= outer[1]


def _falls(one: OdometerReading, two: OdometerReading) -> Clash:
    return Clash(readings=(one, two), why="the later shows less than the earlier")
