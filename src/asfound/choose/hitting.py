"""The smallest set that has a member in common with each of several sets."""

from __future__ import annotations

from collections.abc import Iterable

import highspy
import numpy as np

from asfound.choose.quiet import QuietHighs


def smallest_hitting_set(sets: Iterable[frozenset[int]]) -> frozenset[int]:
    """A smallest set that meets every one of ``sets``, none of which is empty.

    Examples
    --------
    >>> sorted(smallest_hitting_set([frozenset({1, 2}), frozenset({2, 3})]))
    [2]
    """
    rows = list(sets)
    members = sorted(frozenset().union(*rows))
    if not members:
        return frozenset()
    place = {member: column for column, member in enumerate(members)}
    solver = QuietHighs()
    solver.setOptionValue("mip_abs_gap", 0.9)
    solver.setOptionValue("threads", 1)
    for column in place.values():
        solver.addVar(0.0, 1.0)
        solver.changeColCost(column, 1.0)
        solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    for row in rows:
        columns = np.array([place[m] for m in sorted(row)], dtype=np.int32)
        solver.addRow(1.0, highspy.kHighsInf, len(columns), columns, np.ones(len(columns)))
    solver.run()
    values = solver.getSolution().col_value
    return frozenset(member for member, column in place.items() if values[column] > 0.5)
