"""The course of each draw once more, its order and teams kept, with other hours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from asfound.plan.open_grid import Minutes, Numbers
from asfound.plan.policy_standing import Standing
from asfound.plan.policy_tables import Tables

if TYPE_CHECKING:
    from asfound.plan.policy import Course


def ends_again(
    tables: Tables, standing: Standing, course: Course, work_min: Minutes, draws: Numbers
) -> Minutes:
    """End of every task, shape (tasks, questions); no shorter work makes any end later."""
    everywhere = np.arange(len(draws))
    ends = np.zeros((tables.tasks_n, len(draws)))
    ready = np.repeat(tables.first_min[:, None], len(draws), axis=1)
    for turn in range(tables.tasks_n):
        task = course.order[turn, draws]
        team = course.team[task, draws]
        begin = np.maximum(ready[task, everywhere], course.floor_min[task, draws])
        begin = standing.places_from(task, everywhere, begin)
        begin, _ = standing.start(team, everywhere, begin)
        end = standing.end(task, team, begin, work_min[task, everywhere])
        ends[task, everywhere] = end
        standing.take(task, team, end)
        for after, lag in zip(tables.after[task].T, tables.lag_min[task].T, strict=True):
            ready[after, everywhere] = np.maximum(ready[after, everywhere], end + lag)
    return ends
