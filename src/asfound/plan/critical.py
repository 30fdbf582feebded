"""What sets the finish: earliest and latest times along the links, and critical tasks of a plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from asfound.plan.logic import Logic
from asfound.plan.order import followers, in_order
from asfound.plan.plan import Plan
from asfound.plan.problem import PlanProblem


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """Times of one activity in a network without limits of people or places.

    Parameters
    ----------
    early_start, early_finish, late_start, late_finish : float
        In the unit of the durations.
    """

    early_start: float
    early_finish: float
    late_start: float
    late_finish: float

    @property
    def slack(self) -> float:
        """How much later it may end without a later finish of the whole."""
        return self.late_finish - self.early_finish


def network_times(
    durations: Mapping[str, float], links: tuple[tuple[str, str], ...]
) -> dict[str, Times]:
    """Earliest and latest times of each activity (critical path method).

    Parameters
    ----------
    durations : mapping of str to float
        Zero or more each.
    links : tuple of (str, str)
        What ends before what starts; without a ring.

    References
    ----------
    Kelley, J. E. and Walker, M. R. (1959), Critical-path planning and scheduling, Proc. Eastern
    Joint Computer Conference, 160–173.

    Examples
    --------
    >>> times = network_times({"a": 3, "b": 1, "c": 2}, (("a", "c"), ("b", "c")))
    >>> times["b"].slack, times["c"].early_finish
    (2, 5)
    """
    after = followers(durations, links)
    order = in_order(after)
    start: dict[str, float] = dict.fromkeys(order, 0)
    for name in order:
        for end in after[name]:
            start[end] = max(start[end], start[name] + durations[name])
    finish = max((start[name] + durations[name] for name in order), default=0)
    late: dict[str, float] = {}
    for name in reversed(order):
        late[name] = min((late[end] - durations[end] for end in after[name]), default=finish)
    return {
        name: Times(
            early_start=start[name],
            early_finish=start[name] + durations[name],
            late_start=late[name] - durations[name],
            late_finish=late[name],
        )
        for name in order
    }


def critical_tasks(
    problem: PlanProblem, plan: Plan, *, held: frozenset[str] = frozenset()
) -> tuple[str, ...]:
    """Tasks of a plan that, each taking a minute longer, would finish the whole later.

    Their order is that of their starts. Links, the order of work of each person and place,
    working time and waiting are all held; so a task is critical for whatever reason others wait
    for it. A task of ``held`` has started and stays at its start.
    """
    logic = Logic(problem, plan, held=held)
    likely = logic.likely_min()
    if not len(likely):
        return ()
    longer = np.column_stack((likely, likely[:, None] + np.eye(len(likely))))
    finish = logic.ends(longer).max(axis=0)
    return tuple(s.task for s in logic.steps if finish[1 + s.row] > finish[0] + 1e-6)
