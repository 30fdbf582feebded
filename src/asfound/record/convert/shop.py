"""Several cars become one plan: their tasks side by side, one set of people and bays."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from asfound.plan import PlanProblem, Task, TaskLink
from asfound.record.convert.holds import waits_on
from asfound.record.convert.plan import (
    NO_DAY_NAMED,
    ShopQuestion,
    bays_of,
    closed_spans,
    default_first_day,
    link_of,
    person_of,
    task_of,
)
from asfound.record.convert.plan_faults import plan_faults
from asfound.record.convert.workshop import WORDS, named
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row, Sheet

SAME = {"people": ("trades", "hours_per_day", "days"), "bays": ("count",)}
"""What two folders must say alike of a person or a bay; absences and closed days add up."""
ADDED = {"people": "away", "bays": "closed"}
_KEY = {"people": "person", "bays": "bay"}
_BETWEEN = "/"


@dataclass(frozen=True, slots=True, kw_only=True)
class CarAtWork:
    """A car in the shop.

    Parameters
    ----------
    name : str
        Unique among the cars.
    folder : CarFolder
    priority : float
        Weight of its finish against the others', above zero.
    lent : frozenset of str
        Its tables that are the workshop's.
    """

    name: str
    folder: CarFolder
    priority: float = 1.0
    lent: frozenset[str] = frozenset()


def task_name(car: str, task: str) -> str:
    """Name of a car's task in the plan of the whole shop."""
    return f"{car}{_BETWEEN}{task}"


def own_name(task: Task) -> str:
    """Name of a task within its car."""
    return task.task.removeprefix(f"{task.car}{_BETWEEN}") if task.car else task.task


def shop_first_day(cars: Iterable[CarAtWork]) -> date:
    """First day of a plan of several cars where nobody gives one: the first that a car names."""
    named = [default_first_day(car.folder) for car in cars]
    return min((day for day in named if day != NO_DAY_NAMED), default=NO_DAY_NAMED)


def cars_question(cars: Sequence[CarAtWork], *, start: date | None = None) -> ShopQuestion:
    """What is to be planned of several cars together, from a day on.

    Parameters
    ----------
    cars : sequence of CarAtWork
        Those without a task are left out.
    start : date or None
        The plan's first day; None takes the cars' own (``shop_first_day``).

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan, each at its car, file and row.
    """
    first = start or shop_first_day(cars)
    with_tasks = [car for car in cars if len(car.folder.sheet("tasks"))] or list(cars[:1])
    tables, faults = shop_tables(with_tasks)
    shop = CarFolder(sheets=tables)
    told = [
        replace(car, folder=replace(car.folder, sheets={**car.folder.sheets, **shop.sheets}))
        for car in with_tasks
    ]
    faults += _faults(told, first)
    if faults:
        lent = frozenset.intersection(*(car.lent for car in with_tasks))
        raise InputFaultsError(tuple(named(faults, lent)))
    closed = closed_spans(shop, first)
    problem = PlanProblem(
        tasks=tuple(_tasks(with_tasks, first)),
        links=tuple(_links(with_tasks)),
        people=tuple(person_of(row, first, closed) for row in shop.sheet("people")),
        bays=tuple(bays_of(_with_bays(shop, with_tasks), first)),
        first_weekday=first.weekday(),
        priority={car.name: car.priority for car in with_tasks},
    )
    return ShopQuestion(problem=problem, first_day=first)


def _faults(cars: Sequence[CarAtWork], first: date) -> list[Fault]:
    """Faults of each car, those of tables that all share told once."""
    seen: set[Fault] = set()
    found: list[Fault] = []
    for car in cars:
        for fault in plan_faults(car.folder, first=first):
            shared = fault.file.removesuffix(".csv") in WORDS
            told = fault if shared else replace(fault, file=f"{car.name}{_BETWEEN}{fault.file}")
            if told not in seen:
                seen.add(told)
                found.append(told)
    return found


def _tasks(cars: Iterable[CarAtWork], first: date) -> Iterator[Task]:
    for car in cars:
        holds = waits_on(car.folder)
        for row in car.folder.sheet("tasks"):
            task = task_of(row, first, holds)
            yield replace(task, task=task_name(car.name, task.task), car=car.name)


def _links(cars: Iterable[CarAtWork]) -> Iterator[TaskLink]:
    for car in cars:
        for row in car.folder.sheet("task_links"):
            link = link_of(row)
            before, after = (task_name(car.name, end) for end in (link.before, link.after))
            yield replace(link, before=before, after=after)


def _with_bays(shop: CarFolder, cars: Iterable[CarAtWork]) -> CarFolder:
    """The shop's bays; where no table lists any, one of each that a task names."""
    rows = tuple((row.text("bay"),) for car in cars for row in car.folder.sheet("tasks"))
    return replace(shop, sheets={**shop.sheets, "tasks": Sheet(columns=("bay",), rows=rows)})


def shop_tables(cars: Sequence[CarAtWork]) -> tuple[dict[str, Sheet], list[Fault]]:
    """People, bays and closed days of all cars, each once, and where two cars tell one apart."""
    faults: list[Fault] = []
    tables = {table: _joined(table, cars, faults) for table in SAME}
    closed = [row.text("days") for car in cars for row in car.folder.sheet("closed_days")]
    rows = tuple((days,) for days in dict.fromkeys(closed))
    return {**tables, "closed_days": Sheet(columns=("days",), rows=rows)}, faults


def _joined(table: str, cars: Sequence[CarAtWork], faults: list[Fault]) -> Sheet:
    found: dict[str, tuple[str, dict[str, str]]] = {}
    for car in sorted(cars, key=lambda car: table not in car.lent):  # the workshop's come first
        for row in car.folder.sheet(table):
            key = row.text(_KEY[table])
            if key not in found:
                said_by = WORDS[table] if table in car.lent else car.name
                found[key] = (said_by, dict(row.cells))
                continue
            told_by, cells = found[key]
            faults += _differences(table, row, car.name, told_by, cells)
            cells[ADDED[table]] = _together(cells.get(ADDED[table], ""), row.text(ADDED[table]))
    rows = [cells for _, cells in found.values()]
    columns = tuple(dict.fromkeys(name for cells in rows for name in cells))
    return Sheet(columns=columns, rows=tuple(tuple(c.get(n, "") for n in columns) for c in rows))


def _differences(
    table: str, row: Row, car: str, told_by: str, cells: Mapping[str, str]
) -> Iterator[Fault]:
    for column in SAME[table]:
        if _plain(row.text(column)) != _plain(cells.get(column, "")):
            yield Fault(
                file=f"{car}{_BETWEEN}{table}.csv",
                row=row.number_in_file,
                column=column,
                value=row.text(column),
                rule=f"{row.text(_KEY[table])} has {cells.get(column, '')!r} there in {told_by}; "
                "cars in one shop share their people and bays",
                remedy="Let both files say the same, or give two people two names.",
            )


def _plain(text: str) -> str:
    """Text of a cell so that what means the same is the same."""
    try:
        return f"{float(text):g}"
    except ValueError:
        pass
    parts = sorted(part.strip().casefold() for part in text.replace("–", "-").split(";"))
    return ";".join(parts)


def _together(one: str, two: str) -> str:
    parts = [part.strip() for text in (one, two) for part in text.split(";") if part.strip()]
    return "; ".join(dict.fromkeys(parts))
