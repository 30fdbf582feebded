"""What a surprise does to a plan that people go on with: the same rule, other waits and hours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from asfound.base import InputError
from asfound.plan.logic import Logic
from asfound.plan.plan import Plan
from asfound.plan.policy import Policy
from asfound.plan.problem import PlanProblem
from asfound.plan.promise import Promise, promise
from asfound.plan.three_point import SHARED_WITHIN_TRADE


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """A task that ends at another time; ``later_min`` is negative where it ends earlier."""

    task: str
    end_before_min: float
    end_after_min: float

    @property
    def later_min(self) -> float:
        """How much later it ends [min by the clock]."""
        return self.end_after_min - self.end_before_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Surprise:
    """A plan without and with a surprise.

    Parameters
    ----------
    before, after : Promise
        The finish under doubt, the same draws in both.
    ends_before_min, ends_after_min : mapping of str to float
        End of each task, each taking its likely hours [min from the plan's first midnight].
    """

    before: Promise
    after: Promise
    ends_before_min: Mapping[str, float]
    ends_after_min: Mapping[str, float]

    @property
    def finish_later_min(self) -> float:
        """How much later the last task ends, each taking its likely hours [min by the clock]."""
        ends = max(self.ends_after_min.values(), default=0.0)
        return ends - max(self.ends_before_min.values(), default=0.0)

    def shifts(self, *, least_min: float = 1.0) -> tuple[Shift, ...]:
        """Tasks whose ends move by so much or more, the largest move first."""
        pairs = ((t, end, self.ends_after_min[t]) for t, end in self.ends_before_min.items())
        found = [Shift(task=t, end_before_min=a, end_after_min=b) for t, a, b in pairs]
        return tuple(
            sorted(
                (one for one in found if abs(one.later_min) >= least_min),
                key=lambda one: -abs(one.later_min),
            )
        )


def surprise(
    before: PlanProblem,
    after: PlanProblem,
    plan: Plan,
    *,
    held_before: frozenset[str] = frozenset(),
    held_after: frozenset[str] = frozenset(),
    seed: int = 0,
    draws: int | None = None,
    shared: float = SHARED_WITHIN_TRADE,
) -> Surprise:
    """A plan without and with a surprise, the shop going on by it in both.

    Parameters
    ----------
    before, after : PlanProblem
        The same tasks, links, people and bays; what differs is how long tasks take and from when
        on they may begin.
    plan : Plan
        By which the shop goes on (``Policy``).
    held_before, held_after : frozenset of str
        Tasks that have started and go on.
    seed, draws : int
        The same seed draws the same luck for both, so that their difference is the surprise's.
    shared : float
        Correlation within a trade, 0–1.

    Raises
    ------
    InputError
        If the two problems or the plan name other tasks.

    Notes
    -----
    Nothing is searched for: the shop goes on by the plan, and takes up the next task that is ready
    where something is late (``Policy``). Where nobody and no place is waited for, a wait of n days
    by the clock on a task with float f makes the finish later by max(0, n − f) (Kelley and Walker
    1959); with days off and nights the finish moves to the next time at which the people are in.
    """
    names = {placed.task for placed in plan.placed}
    if not names == set(before.named) == set(after.named):
        raise InputError(field="tasks", got="others", allowed="the same before, after and planned")
    plan = _ordered(after, plan)
    luck: dict[str, Any] = {"seed": seed, "draws": draws, "shared": shared, "why": False}
    sides = [
        (problem, held, promise(problem, plan, held=held, **luck))
        for problem, held in ((before, held_before), (after, held_after))
    ]
    ends = [
        _ends(Logic(problem, plan, held=held), found.patience_min) for problem, held, found in sides
    ]
    return Surprise(
        before=sides[0][2],
        after=sides[1][2],
        ends_before_min=ends[0],
        ends_after_min=ends[1],
    )


def _ends(logic: Logic, patience_min: float) -> dict[str, float]:
    likely = logic.likely_min()[:, np.newaxis]
    ends = Policy(logic, patience_min=patience_min).course(likely).end_min
    return {step.task: float(ends[step.row, 0]) for step in logic.steps}


def _ordered(problem: PlanProblem, plan: Plan) -> Plan:
    """The plan with each task placed no sooner than what it follows.

    A link that was made after the plan may run against its order; the link counts.
    """
    placed = {one.task: one for one in plan.placed}
    for name in problem.order:
        soonest = max((placed[link.before].start_min for link in problem.links_to[name]), default=0)
        wait_min = max(0, soonest - placed[name].start_min)
        one = placed[name]
        placed[name] = replace(
            one, start_min=one.start_min + wait_min, end_min=one.end_min + wait_min
        )
    return replace(
        plan,
        placed=tuple(sorted(placed.values(), key=lambda one: one.start_min)),
        finish_min=max((one.end_min for one in placed.values()), default=0),
    )
