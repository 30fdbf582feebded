"""Ways to make up a team, and how long one is in together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from asfound.plan.working_time import DAY_MIN, Windows


def splits(able: Iterable[int], sizes: list[int], people: int) -> list[dict[int, int]]:
    """Every way to take so many people from crews of these sizes, the least mixed first."""
    found: list[dict[int, int]] = [{}]
    for crew in able:
        found = [
            {**taken, crew: count} if count else taken
            for taken in found
            for count in range(min(sizes[crew], people - sum(taken.values())) + 1)
        ]
    whole = [taken for taken in found if sum(taken.values()) == people]
    return sorted(whole, key=lambda taken: (len(taken), sorted(taken.items())))


def together_min(several: Sequence[Windows], *, days: int) -> int:
    """Time in which all of several people work [min]; each has one spell a day at most.

    Quicker than laying their spells over each other, where there are thousands of teams.
    """
    begins = np.zeros(days, dtype=np.int64)
    ends = np.full(days, days * DAY_MIN, dtype=np.int64)
    for windows in several:
        day = windows[:, 0] // DAY_MIN
        begin, end = np.zeros((2, days), dtype=np.int64)
        begin[day], end[day] = windows[:, 0], windows[:, 1]
        np.maximum(begins, begin, out=begins)
        np.minimum(ends, end, out=ends)
    return int(np.maximum(ends - begins, 0).sum())
