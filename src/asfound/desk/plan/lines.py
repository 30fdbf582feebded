"""Lines of the plan's pages: tasks in words."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.dossier.figures.promise_curve import Finishes
from asfound.record.convert.holds import holding, waits_on
from asfound.record.derived import PlanResult
from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """One task of the plan."""

    task: str
    name: str
    start: str
    end: str
    people: str
    bay: str
    critical: bool
    waits: tuple[str, ...] = ()


def task_names(folder: CarFolder) -> dict[str, str]:
    """What each task is, in words."""
    return {row.text("task"): row.text("name") for row in folder.sheet("tasks")}


def held_waits(folder: CarFolder) -> dict[str, tuple[str, ...]]:
    """What each held task waits for, in words with the reason."""
    holds = waits_on(folder)
    found = {
        row.text("task"): holding(holds, task=row.text("task"), subject=row.text("subject"))
        for row in folder.sheet("tasks")
    }
    return {
        task: tuple(f"{one.waiting}: {one.why}" if one.why else one.waiting for one in held)
        for task, held in found.items()
        if held
    }


def task_lines(folder: CarFolder, result: PlanResult) -> list[TaskLine]:
    """Tasks in the order of their starts."""
    names, waits = task_names(folder), held_waits(folder)
    question, placed = result.question, result.plan.placed if result.plan else ()
    return [
        TaskLine(
            task=p.task,
            name=names.get(p.task, ""),
            start=f"{question.at(p.start_min):%a %-d %b %H:%M}",
            end=f"{question.at(p.end_min):%a %-d %b %H:%M}",
            people=", ".join(p.people),
            bay=", ".join(question.problem.named[p.task].bays),
            critical=p.task in result.critical,
            waits=waits.get(p.task, ()),
        )
        for p in placed
    ]


def finishes_of(result: PlanResult) -> Finishes | None:
    """Finish in doubt, as its curve is drawn; ``None`` where there is no plan."""
    if result.plan is None or result.promise is None:
        return None
    return Finishes(
        first_day=result.question.first_day,
        curve_min=result.promise.curve_min(),
        plan_min=result.plan.finish_min,
    )
