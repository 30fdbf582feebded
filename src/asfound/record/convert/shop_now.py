"""What is still to be planned of the shop at a moment: done work left out, begun work held."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from django.utils import timezone

from asfound.plan import Earlier, Hours, Past, Placed, Plan, PlanProblem, Task
from asfound.plan.open_time import OpenTime, all_of
from asfound.record.convert.past import NO_PAST, with_past
from asfound.record.convert.plan import ShopQuestion, link_of
from asfound.record.convert.shop import CarAtWork, cars_question, task_name
from asfound.record.convert.worked import TaskWork, stretch_of, work_by_task
from asfound.record.folder import Sheet
from asfound.record.results.shop_plan import PlannedShop

ROUND_MIN = 30
LEAST_LEFT_H = 0.5
"""A task that has begun takes at least so much longer: nobody plans in shorter spells."""
_DAYS = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopNow:
    """The shop at a moment.

    Parameters
    ----------
    question : ShopQuestion
        Its first day is today; nothing in it starts before now.
    earlier : Earlier
        What has begun, and the plan so far.
    """

    question: ShopQuestion
    earlier: Earlier


def shop_now(
    cars: Sequence[CarAtWork],
    *,
    now: datetime,
    adopted: PlannedShop | None,
    past: Past = NO_PAST,
) -> ShopNow | None:
    """What is to be planned from now on; ``None`` where no task is left.

    Parameters
    ----------
    cars : sequence of CarAtWork
    now : datetime
        Local time with its zone.
    adopted : PlannedShop or None
        The plan that people act on.
    past : Past
        What finished work says of the hours; none takes them as written.

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan.

    Notes
    -----
    Of a task that has begun, the likely hours less those worked are left, half an hour at least.
    It stays with its people in its bay. Where two that have begun want the same person or place,
    the one that runs keeps it, and the other is planned anew; so is a task whose team has not
    begun it whole, and one that nobody is at and that may go on only later.
    """
    work = {car.name: work_by_task(car.folder, now) for car in cars}
    left = [_without_done(car, work[car.name]) for car in cars]
    left = [car for car in left if len(car.folder.sheet("tasks"))]
    if not left:
        return None
    local = now.replace(tzinfo=None)
    question = with_past(cars_question(left, start=local.date()), past)
    now_min = _now_min(local)
    begun = {
        task_name(car, task): one
        for car, tasks in work.items()
        for task, one in tasks.items()
        if task_name(car, task) in question.problem.named
    }
    rests = dict(_resting(cars, work, local))
    problem = replace(
        question.problem,
        tasks=tuple(
            _from_now(t, begun.get(t.task), max(now_min, rests.get(t.task, 0)))
            for t in question.problem.tasks
        ),
    )
    earlier = _planned(adopted, problem, local)
    held = dict(_held(problem, begun, now_min))
    return ShopNow(
        question=replace(question, problem=problem), earlier=Earlier(held=held, plan=earlier)
    )


def _now_min(local: datetime) -> int:
    passed = (local - datetime.combine(local.date(), time())).total_seconds() / 60
    return math.ceil(passed / ROUND_MIN) * ROUND_MIN


def _without_done(car: CarAtWork, work: Mapping[str, TaskWork]) -> CarAtWork:
    done = {task for task, one in work.items() if one.done}
    tasks, links = car.folder.sheet("tasks"), car.folder.sheet("task_links")
    kept = {
        "tasks": _rows(tasks, [row.text("task") not in done for row in tasks]),
        "task_links": _rows(
            links, [not {row.text("before"), row.text("after")} & done for row in links]
        ),
    }
    return replace(car, folder=replace(car.folder, sheets={**car.folder.sheets, **kept}))


def _resting(
    cars: Sequence[CarAtWork], work: Mapping[str, Mapping[str, TaskWork]], local: datetime
) -> Iterator[tuple[str, int]]:
    """Tasks that wait for what is done to dry, with the minute of today's plan until when."""
    midnight = datetime.combine(local.date(), time())
    for car in cars:
        ended: dict[str, datetime] = {}
        for row in car.folder.sheet("worked"):
            one = stretch_of(row.cells)
            if one.ended is not None:
                at = one.ended.astimezone(timezone.get_current_timezone()).replace(tzinfo=None)
                ended[one.task] = max(at, ended.get(one.task, at))
        links = [link_of(row) for row in car.folder.sheet("task_links")]
        waits: dict[str, int] = {}
        for link in links:
            done = work[car.name].get(link.before)
            if link.lag_min and done is not None and done.done and link.before in ended:
                over = ended[link.before] + timedelta(minutes=link.lag_min) - midnight
                minute = math.ceil(over / timedelta(minutes=ROUND_MIN)) * ROUND_MIN
                waits[link.after] = max(waits.get(link.after, 0), minute)
        yield from ((task_name(car.name, task), minute) for task, minute in waits.items())


def _rows(sheet: Sheet, keep: Iterable[bool]) -> Sheet:
    rows = list(zip(sheet.rows, sheet.numbers or range(2, len(sheet) + 2), keep, strict=True))
    return replace(
        sheet,
        rows=tuple(cells for cells, _, kept in rows if kept),
        numbers=tuple(number for _, number, kept in rows if kept),
    )


def _from_now(task: Task, work: TaskWork | None, now_min: int) -> Task:
    hours = task.hours
    if work is not None and work.people:
        worked = work.hours / max(task.people, 1)
        likely = max(LEAST_LEFT_H, math.ceil((hours.likely - worked) * 2) / 2)
        hours = Hours(
            low=min(likely, max(hours.low - worked, 0.0)),
            likely=likely,
            high=max(likely, hours.high - worked),
        )
    return replace(task, hours=hours, not_before_min=max(task.not_before_min, now_min))


def _planned(adopted: PlannedShop | None, problem: PlanProblem, local: datetime) -> Plan | None:
    """The adopted plan counted from today's midnight, as far as its tasks are still there."""
    if adopted is None:
        return None
    midnight = datetime.combine(local.date(), time())

    def minutes(at: datetime) -> int:
        return max(0, round((at - midnight) / timedelta(minutes=1)))

    placed = tuple(
        Placed(
            task=task_name(task.car, task.task),
            start_min=minutes(task.start),
            end_min=minutes(task.end),
            people=task.people,
        )
        for task in adopted.tasks
        if task_name(task.car, task.task) in problem.named
    )
    if not placed:
        return None
    finish = max(one.end_min for one in placed)
    return Plan(placed=placed, finish_min=finish, finish_least_min=0, days=0.0, days_least=0.0)


def _held(
    problem: PlanProblem, begun: Mapping[str, TaskWork], now_min: int
) -> Iterator[tuple[str, Placed]]:
    """Tasks that have begun, from now to the end that is expected, those that run first."""
    taken: set[str] = set()
    room = {bay.bay: bay.count for bay in problem.bays}
    for name in sorted(begun, key=lambda task: (not begun[task].running, task)):
        task = problem.named[name]
        if task.not_before_min > now_min and not begun[name].running:
            continue
        team = _team(problem, task, (*begun[name].running, *begun[name].people))
        fits = all(room[bay] >= need for bay, need in task.bays.items())
        if team is None or not fits or taken & set(team):
            continue
        span = _span(problem, task, team, now_min)
        if span is None:
            continue
        taken |= set(team)
        for bay, need in task.bays.items():
            room[bay] -= need
        yield name, Placed(task=name, start_min=span[0], end_min=span[1], people=team)


def _team(problem: PlanProblem, task: Task, names: tuple[str, ...]) -> tuple[str, ...] | None:
    able = {person.person for person in problem.able(task.trade)}
    team = tuple(name for name in dict.fromkeys(names) if name in able)[: task.people]
    return team if len(team) == task.people and team else None


def _span(
    problem: PlanProblem, task: Task, team: tuple[str, ...], now_min: int
) -> tuple[int, int] | None:
    windows = [
        person.time.windows(first_weekday=problem.first_weekday, days=_DAYS)
        for person in problem.people
        if person.person in team
    ]
    together = OpenTime(all_of(windows))
    passed = float(together.before(now_min))
    if passed + task.hours.minutes > together.total:
        return None
    return int(together.starts_at(passed)), int(together.ends_at(passed + task.hours.minutes))
