"""Who is at a task, and how long it takes with their breaks, as variables of the model."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from asfound.plan.draft import Draft
from asfound.plan.shop import Shop
from asfound.plan.spell import Break, breaks_between
from asfound.plan.task import Task


@dataclass(slots=True, kw_only=True)
class Team:
    """What the model knows of one task's people.

    Parameters
    ----------
    end : linear expression
        Tick at which the task ends.
    interval : IntervalVar
        From start to end, breaks included.
    taken : mapping of int to (IntervalVar, expression)
        By crew: when and how many of its people are taken.
    counts : mapping of int to expression
        By crew that could be in the team: how many people of it are.
    spans : sequence of (Break, literal)
        Breaks that the task may run across.
    """

    end: cp_model.LinearExprT
    interval: cp_model.IntervalVar
    counts: Mapping[int, cp_model.LinearExprT]
    present: Mapping[int, cp_model.IntVar] = field(default_factory=dict)
    taken: dict[int, tuple[cp_model.IntervalVar, cp_model.LinearExprT]] = field(
        default_factory=dict
    )

    def hint(self, cp: cp_model.CpModel, draft: Draft, name: str) -> None:
        """Hint the team of a plan that is known."""
        for crew, literal in self.present.items():
            count = draft.crews[name].get(crew, 0)
            cp.add_hint(literal, int(count > 0))
            expression = self.counts[crew]
            if isinstance(expression, cp_model.IntVar) and expression is not literal:
                cp.add_hint(expression, count)

    def read(self, solver: cp_model.CpSolver) -> dict[int, int]:
        """How many people of each crew the solver put into the team."""
        counts = {crew: int(solver.value(count)) for crew, count in self.counts.items()}
        return {crew: count for crew, count in counts.items() if count}


def held_team(
    cp: cp_model.CpModel, start: cp_model.IntVar, *, ticks: int, crews: Mapping[int, int]
) -> Team:
    """Team of a task that stays where and with whom it is."""
    interval = cp.new_fixed_size_interval_var(start, ticks, "")
    return Team(
        end=start + ticks,
        interval=interval,
        counts=dict(crews),
        taken={crew: (interval, count) for crew, count in crews.items()},
    )


def new_team(
    cp: cp_model.CpModel,
    shop: Shop,
    task: Task,
    start: cp_model.IntVar,
    *,
    first: int,
    last: int,
) -> Team:
    """Team to be chosen for a task that lies between two ticks."""
    able, ticks = shop.able(task), shop.ticks(task.hours.minutes)
    present, counts = _members(cp, shop, task, able)
    breaks = breaks_between(shop, able, first, last) if ticks else []
    if not breaks:
        size: cp_model.LinearExprT = ticks
        end: cp_model.LinearExprT = start + ticks
        interval = cp.new_fixed_size_interval_var(start, ticks, f"{task.task}")
    else:
        size_var = cp.new_int_var(ticks, last - first, "")
        end_var = cp.new_int_var(first + ticks, last, f"end of {task.task}")
        interval = cp.new_interval_var(start, size_var, end_var, f"{task.task}")
        size, end = size_var, end_var
        spans = _spans(cp, breaks, start, end_var, present, able)
        lost = sum((b.end - b.begin) * literal for b, literal in zip(breaks, spans, strict=True))
        cp.add(size_var == ticks + lost)
    team = Team(end=end, interval=interval, counts=counts, present=present)
    for crew in able if ticks else ():
        when = interval
        if crew in present:
            when = cp.new_optional_interval_var(start, size, end, present[crew], "")
        team.taken[crew] = (when, counts[crew])
    return team


def _members(
    cp: cp_model.CpModel, shop: Shop, task: Task, able: Sequence[int]
) -> tuple[dict[int, cp_model.IntVar], dict[int, cp_model.LinearExprT]]:
    if len(able) <= 1:
        return {}, dict.fromkeys(able, task.people)
    present = {crew: cp.new_bool_var(f"{task.task} by {crew}") for crew in able}
    if task.people == 1:
        cp.add_exactly_one(present.values())
        return present, dict(present)
    counts: dict[int, cp_model.LinearExprT] = {}
    for crew in able:
        size = min(len(shop.crews[crew].people), task.people)
        count = counts[crew] = cp.new_int_var(0, size, "")
        cp.add(count >= 1).only_enforce_if(present[crew])
        cp.add(count == 0).only_enforce_if(~present[crew])
    cp.add(sum(counts.values()) == task.people)
    return present, counts


def _spans(
    cp: cp_model.CpModel,
    breaks: Sequence[Break],
    start: cp_model.IntVar,
    end: cp_model.IntVar,
    present: Mapping[int, cp_model.IntVar],
    able: Sequence[int],
) -> list[cp_model.IntVar]:
    """For each break whether the task runs across it with someone missing.

    A task lies before a break, behind it, or across it; none begins or ends within a break of
    its own people.
    """
    found = []
    for spell in breaks:
        before, across, behind = (cp.new_bool_var("") for _ in range(3))
        cp.add(end <= spell.begin).only_enforce_if(before)
        cp.add(start >= spell.end).only_enforce_if(behind)
        cp.add(start <= spell.begin - 1).only_enforce_if(across)
        cp.add(end >= spell.end + 1).only_enforce_if(across)
        if len(spell.crews) == len(able):
            cp.add_exactly_one(before, across, behind)
        else:
            members = [present[crew] for crew in sorted(spell.crews)]
            for member in members:
                cp.add_bool_or(before, across, behind, ~member)
            cp.add_bool_or(~across, *members)
            cp.add_at_most_one(before, across, behind)
        found.append(across)
    return found
