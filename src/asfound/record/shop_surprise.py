"""What a hold, or more hours on a piece, does to the promise of the plan that people act on."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.utils import timezone

from asfound.base import AsfoundError
from asfound.plan import Plan, PlanProblem, Promise, Surprise, surprise
from asfound.plan.what_if import LEAST_DAYS
from asfound.record.convert.holds import HOLDS, hold_of
from asfound.record.convert.past import finished
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.shop import CarAtWork, own_name
from asfound.record.convert.shop_now import ShopNow, shop_now
from asfound.record.folder import Sheet
from asfound.record.models import Car, Observation
from asfound.record.reads.past import shop_past
from asfound.record.reads.shop_plan import adopted_shop, cars_at_work
from asfound.record.results.plan import CHANCES
from asfound.record.results.shop_plan import PlannedShop
from asfound.record.shop_made import shop_inputs

_ENDED = ("released_at", "released_by", "note")
_POINTS = frozenset({"hours_low", "hours_likely", "hours_high"})
_DAY_MIN = 1440


@dataclass(frozen=True, slots=True, kw_only=True)
class CarSurprise:
    """The days of one car, without and with the surprise: chance in words, before, after."""

    car: str
    title: str
    days: tuple[tuple[str, date, date], ...]

    @property
    def late(self) -> tuple[str, date, date]:
        """The day that 80 % keep."""
        return self.days[1]

    @property
    def days_later(self) -> int:
        """How many days later the day is that 80 % keep; negative for earlier."""
        return (self.late[2] - self.late[1]).days


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedTask:
    """A task that ends at another time."""

    car: str
    task: str
    name: str
    ends_before: datetime
    ends_after: datetime

    @property
    def days(self) -> float:
        """How much later it ends [d by the clock]; negative for earlier."""
        return (self.ends_after - self.ends_before).total_seconds() / 86_400


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSurprise:
    """What a surprise does to the promises of the shop.

    Parameters
    ----------
    cars : tuple of CarSurprise
        The car that it is about, and every other whose days move.
    moved : tuple of MovedTask
        The largest move first.
    unplanned_n : int
        Tasks that the adopted plan does not have, which are left out.
    """

    cars: tuple[CarSurprise, ...]
    moved: tuple[MovedTask, ...]
    unplanned_n: int


def hold_key(hold: Observation, *, change: bool = False) -> str:
    """Name of the work on what a hold does today; what changes the plan changes it."""
    told = f"{shop_inputs()}:{hold.pk}:{hold.counts}:{change}:{timezone.localdate()}"
    return f"hold-and-promise:{hashlib.sha256(told.encode()).hexdigest()}"


def surprise_of_hold(hold: Observation, *, now: datetime, change: bool = False) -> ShopSurprise:
    """The promise without the hold against that with it; of one that ended, the other way round.

    Parameters
    ----------
    hold : Observation
    now : datetime
    change : bool
        Whether the last change of the hold is asked about, against how it stood before that.

    Raises
    ------
    AsfoundError
        If no plan is adopted, or the car is not in it.
    InputFaultsError
        With everything that stands against a plan.
    """
    cars = cars_at_work()
    sides = [_with_holds(cars, hold, held) for held in _versions(hold, change=change)]
    return _between(sides, hold.car, now=now)


def surprise_of_hours(car: Car, factors: Mapping[str, float], *, now: datetime) -> ShopSurprise:
    """The promise as the shop is planned against that with other hours on some pieces of a car.

    Parameters
    ----------
    car : Car
    factors : mapping of str to float
        By piece, by what the hours of its tasks that are not done are multiplied.
    now : datetime

    Raises
    ------
    AsfoundError
        If no plan is adopted, the car is not in it, or no task of the pieces is left to do.
    InputFaultsError
        With everything that stands against a plan.
    """
    cars = cars_at_work()
    after = [_with_hours(one, factors) if one.name == car.slug else one for one in cars]
    if all(one is other for one, other in zip(cars, after, strict=True)):
        raise AsfoundError("No task of what changes is left to do")
    return _between([cars, after], car, now=now)


def _between(sides: Sequence[Sequence[CarAtWork]], car: Car, *, now: datetime) -> ShopSurprise:
    adopted, past = adopted_shop(), shop_past()
    if adopted is None:
        raise AsfoundError("No plan of the shop is adopted yet: there is no promise to move")
    if car.slug not in {one.name for one in sides[0]}:
        raise AsfoundError(f"{car} is not among the cars at work, so that nothing is promised")
    before, after = (shop_now(side, now=now, adopted=adopted, past=past) for side in sides)
    if before is None or after is None or after.earlier.plan is None:
        raise AsfoundError("The adopted plan has no task that is left to do; plan anew")
    return _told(before, after, adopted, car.slug, shared=past.shared)


def _with_hours(car: CarAtWork, factors: Mapping[str, float]) -> CarAtWork:
    """The car with the hours of the open tasks of some pieces multiplied; itself if it has none."""
    done, sheet = finished(car.folder), car.folder.sheet("tasks")
    open_ = [r.text("subject") in factors and r.text("task") not in done for r in sheet]
    if not any(open_):
        return car
    hours = {i for i, name in enumerate(sheet.columns) if name in _POINTS}
    rows = tuple(
        tuple(
            f"{float(cell) * factors[row.text('subject')]:g}" if i in hours and cell else cell
            for i, cell in enumerate(cells)
        )
        if is_open
        else cells
        for row, cells, is_open in zip(sheet, sheet.rows, open_, strict=True)
    )
    sheets = {**car.folder.sheets, "tasks": replace(sheet, rows=rows)}
    return replace(car, folder=replace(car.folder, sheets=sheets))


def _versions(hold: Observation, *, change: bool) -> tuple[Observation | None, Observation | None]:
    """What held before, and what holds now."""
    if not (hold.counts and hold_of(hold.cells).is_open):
        return hold, None
    before = next(iter(_earlier(hold)), None) if change else None
    return before, hold


def _with_holds(
    cars: Sequence[CarAtWork], hold: Observation, held: Observation | None
) -> list[CarAtWork]:
    """The cars as if one version of the hold stood, or as if it never had."""
    versions = {hold.pk, *(row.pk for row in _earlier(hold))}
    rows = hold.car.observations.current().filter(table=HOLDS).exclude(pk__in=versions)
    cells = [row.cells for row in rows]
    if held is not None:
        cells.append({name: cell for name, cell in held.cells.items() if name not in _ENDED})
    columns = tuple(dict.fromkeys(name for row in cells for name in row))
    sheet = Sheet(columns=columns, rows=tuple(tuple(r.get(c, "") for c in columns) for r in cells))
    return [
        replace(car, folder=replace(car.folder, sheets={**car.folder.sheets, HOLDS: sheet}))
        if car.name == hold.car.slug
        else car
        for car in cars
    ]


def _earlier(hold: Observation) -> list[Observation]:
    """What the hold was before it was corrected or ended, the latest first."""
    found, last = [], hold
    while (row := Observation.objects.filter(superseded_by=last).first()) is not None:
        found.append(row)
        last = row
    return found


def _told(
    before: ShopNow, after: ShopNow, adopted: PlannedShop, slug: str, *, shared: float
) -> ShopSurprise:
    plan = after.earlier.plan
    assert plan is not None
    problems = [_planned_only(side.question.problem, plan) for side in (before, after)]
    held = [frozenset(side.earlier.held) & set(problems[0].named) for side in (before, after)]
    found = surprise(
        problems[0],
        problems[1],
        _in_place(plan, after, problems[1]),
        held_before=held[0],
        held_after=held[1],
        shared=shared,
    )
    return ShopSurprise(
        cars=tuple(_cars(found, after.question, adopted, slug)),
        moved=tuple(_moved(found, after.question, adopted)),
        unplanned_n=len(after.question.problem.tasks) - len(problems[1].tasks),
    )


def _planned_only(problem: PlanProblem, plan: Plan) -> PlanProblem:
    """The problem without what the adopted plan does not have."""
    there = {one.task for one in plan.placed}
    return replace(
        problem,
        tasks=tuple(task for task in problem.tasks if task.task in there),
        links=tuple(link for link in problem.links if {link.before, link.after} <= there),
    )


def _in_place(plan: Plan, now: ShopNow, problem: PlanProblem) -> Plan:
    """The adopted plan, what has begun where it goes on; who has left is left out of the teams."""
    people = {person.person for person in problem.people}
    placed = [now.earlier.held.get(one.task, one) for one in plan.placed]
    teams = [tuple(name for name in one.people if name in people) for one in placed]
    return replace(
        plan,
        placed=tuple(replace(one, people=t) for one, t in zip(placed, teams, strict=True)),
    )


def _cars(
    found: Surprise, question: ShopQuestion, adopted: PlannedShop, slug: str
) -> list[CarSurprise]:
    names = list(dict.fromkeys(task.car for task in question.problem.tasks))
    told = [
        CarSurprise(
            car=car,
            title=adopted.titles.get(car, car),
            days=tuple(
                (
                    f"{chance:.0%}",
                    question.at(_of(found.before, car).by(chance)).date(),
                    question.at(_of(found.after, car).by(chance)).date(),
                )
                for chance in CHANCES.values()
            ),
        )
        for car in names
        if not found.before.cars or car in found.before.cars
    ]
    moved = [one for one in told if one.car != slug and any(a != b for _, a, b in one.days)]
    return [one for one in told if one.car == slug] + moved


def _of(promise: Promise, car: str) -> Promise:
    return promise.of(car) if promise.cars else promise


def _moved(found: Surprise, question: ShopQuestion, adopted: PlannedShop) -> list[MovedTask]:
    named, told = question.problem.named, []
    for shift in found.shifts(least_min=LEAST_DAYS * _DAY_MIN):
        task = named[shift.task]
        car, own = task.car, own_name(task)
        known = adopted.by_key.get((car, own))
        told.append(
            MovedTask(
                car=car,
                task=own,
                name=known.name if known else own,
                ends_before=question.at(shift.end_before_min),
                ends_after=question.at(shift.end_after_min),
            )
        )
    return told
