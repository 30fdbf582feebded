"""What a finish hangs on: the chain of tasks, people, places and days back from its last task."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from asfound.plan.logic import Logic, Minutes, Step
from asfound.plan.plan import Plan
from asfound.plan.problem import PlanProblem

Kind = Literal["start", "day", "closed", "task", "waiting", "person", "bay"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Governor:
    """Why a task that a finish hangs on cannot begin sooner.

    Parameters
    ----------
    task : str
    kind : {"start", "day", "closed", "task", "waiting", "person", "bay"}
        It begins with the plan or has begun; waits for its own first day; for a bay that is shut;
        for a task before it; for that task to dry; for somebody who is at another task; for a
        bay that another task holds.
    before : str
        Task that it waits for; empty for the first three.
    of : str
        Person or bay; else empty.
    """

    task: str
    kind: Kind
    before: str = ""
    of: str = ""


def governors(
    problem: PlanProblem, plan: Plan, tasks: Iterable[str], *, held: frozenset[str] = frozenset()
) -> tuple[Governor, ...]:
    """Chain that the finish of some tasks hangs on, its first task first.

    Parameters
    ----------
    problem : PlanProblem
    plan : Plan
        A plan of the problem.
    tasks : iterable of str
        Those whose last end is the finish: all of a car.
    held : frozenset of str
        Tasks that have started.

    Notes
    -----
    Tasks take their likely hours and begin as soon as links, working time, the plan's order of
    work of each person and place, and their own first days let them. Of several things that a
    task waits for, that which ends last governs it; where they end in the same minute, a link
    before a person, and a person before a bay.
    """
    logic = Logic(problem, plan, held=held)
    ends = logic.ends(logic.likely_min()[:, None])[:, 0]
    rows = [logic.row[task] for task in tasks]
    if not rows:
        return ()
    step: Step | None = logic.steps[max(rows, key=lambda row: ends[row])]
    chain = []
    while step is not None:
        one = _governor(problem, logic, step, ends)
        chain.append(one)
        step = logic.steps[logic.row[one.before]] if one.before else None
    return tuple(reversed(chain))


def _governor(problem: PlanProblem, logic: Logic, step: Step, ends: Minutes) -> Governor:
    ready = max((ends[before] + lag for before, lag in step.waits), default=-np.inf)
    if ready < step.not_before_min or not step.waits:
        return _alone(problem, logic, step)
    last = [logic.steps[b].task for b, lag in step.waits if ends[b] + lag >= ready - 1e-6]
    told = (_between(problem, logic, before, step) for before in last)
    return min(told, key=lambda one: _RANK.index(one.kind))


def _alone(problem: PlanProblem, logic: Logic, step: Step) -> Governor:
    """What waits for nothing but a day."""
    task = problem.named[step.task]
    first_min = min(one.not_before_min for one in logic.steps)
    if step.task in logic.held or step.not_before_min <= first_min:
        return Governor(task=step.task, kind="start")
    if step.not_before_min > task.not_before_min and task.bays:
        return Governor(task=step.task, kind="closed", of=next(iter(task.bays)))
    return Governor(task=step.task, kind="day")


_RANK: tuple[Kind, ...] = ("task", "waiting", "person", "bay")


def _between(problem: PlanProblem, logic: Logic, before: str, step: Step) -> Governor:
    lags = [link.lag_min for link in problem.links_to[step.task] if link.before == before]
    if lags:
        return Governor(task=step.task, kind="waiting" if max(lags) else "task", before=before)
    people = logic.steps[logic.row[before]].people
    shared = next((person for person in step.people if person in people), "")
    if shared:
        return Governor(task=step.task, kind="person", before=before, of=shared)
    bays = problem.named[before].bays
    bay = next((bay for bay in problem.named[step.task].bays if bay in bays), "")
    return Governor(task=step.task, kind="bay", before=before, of=bay)
