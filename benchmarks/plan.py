"""How near the schedule comes to published optima and to its own bound, and how long it takes.

Run: python -m benchmarks.plan DIRECTORY [--values FILE …] [--pattern 'j30*.rcp'] [--work 10]
     python -m benchmarks.plan --shop [--cars 3] [--tasks 150] [--people 8] [--seed 0] [--work 10]

The directory holds instances of the resource-constrained project scheduling problem in the
Patterson format; each file of values is a table "problem,optimum" (a range as "low..high").
"""

from __future__ import annotations

import argparse
import csv
import random
import re
import sys
import time
from dataclasses import replace
from pathlib import Path

from asfound.plan import (
    Bay,
    Hours,
    Person,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    plan,
    promise,
)


def read_instance(text: str) -> PlanProblem:
    """A project in the Patterson format: resources as bays, a period as an hour."""
    numbers = iter([int(word) for word in text.split()])
    count, kinds = next(numbers), next(numbers)
    bays = tuple(Bay(bay=f"R{k + 1}", count=next(numbers)) for k in range(kinds))
    tasks, links = [], []
    for name in range(1, count + 1):
        hours = Hours.sure(next(numbers))
        needs = {bay.bay: need for bay in bays if (need := next(numbers))}
        tasks.append(Task(task=str(name), hours=hours, people=0, bays=needs))
        followers = [next(numbers) for _ in range(next(numbers))]
        links += [TaskLink(before=str(name), after=str(after)) for after in followers]
    return PlanProblem(tasks=tuple(tasks), links=tuple(links), bays=bays)


def make_shop(seed: int, *, cars: int, tasks: int, people: int) -> PlanProblem:
    """An invented shop: stages of work a car, trades of unequal size, part days, absences."""
    draw = random.Random(seed)
    trades = ("mechanic", "panel", "painter", "trimmer", "electrician")
    crew = tuple(_person(draw, i, trades) for i in range(people))
    bays = (Bay(bay="lift", count=3), Bay(bay="bench", count=6), Bay(bay="booth", count=1))
    found, links = [], []
    for car in range(cars):
        names = [f"{car + 1}-{i + 1:03d}" for i in range(tasks)]
        for i, name in enumerate(names):
            found.append(_task(draw, name, trades, f"car {car + 1}"))
            for before in draw.sample(range(max(0, i - 15), i), min(i, draw.choice((1, 1, 2)))):
                lag = 60 * draw.choice((0, 0, 0, 0, 0, 0, 16, 48))
                links.append(TaskLink(before=names[before], after=name, lag_min=lag))
    return PlanProblem(tasks=tuple(found), links=tuple(links), people=crew, bays=bays)


def _person(draw: random.Random, index: int, trades: tuple[str, ...]) -> Person:
    own = {trades[index % len(trades)], *draw.sample(trades, draw.choice((0, 0, 1)))}
    first = draw.randint(3, 60)
    time_ = WorkingTime.every_day(draw.choice((8, 8, 7.5, 6)), weekdays=draw.choice((5, 5, 4)))
    away = ((first, first + draw.choice((4, 11))),) if draw.random() < 0.7 else ()
    return Person(
        person=f"person {index + 1}",
        trades=tuple(sorted(own)),
        time=WorkingTime(minutes=time_.minutes, away=away),
    )


def _task(draw: random.Random, name: str, trades: tuple[str, ...], car: str) -> Task:
    likely = draw.choice((1, 2, 3, 4, 6, 8, 12, 20))
    bay = draw.choice(("", "lift", "bench", "bench"))
    trade = draw.choices(trades, weights=(5, 3, 2, 2, 2))[0]
    return Task(
        task=name,
        hours=Hours(low=0.75 * likely, likely=likely, high=1.75 * likely),
        trade=trade,
        bays={"booth": 1} if trade == "painter" and likely >= 6 else {bay: 1} if bay else {},
        car=car,
    )


def run_instances(directory: Path, pattern: str, known: dict[str, str], work_s: float) -> None:
    print("instance      finish    bound  proved  published   beyond   seconds   of CPU")
    in_all = 0.0
    for path in sorted(directory.glob(pattern)):
        began, used = time.perf_counter(), time.process_time()
        found = plan(read_instance(path.read_text()), work_s=work_s)
        took, used = time.perf_counter() - began, time.process_time() - used
        in_all += used
        value, bound = found.finish_min / 60, found.finish_least_min / 60
        best = known.get(path.stem, "")
        beyond = f"{value / float(best.split('..')[-1]) - 1:7.1%}" if best else ""
        print(
            f"{path.stem:12}{value:8.0f} {bound:8.0f}  {found.proved!s:6}  {best:>9} "
            f"{beyond:>8} {took:9.1f} {used:8.1f}",
            flush=True,
        )
    print(f"{in_all:.1f} s of CPU in all")


def read_values(paths: list[Path]) -> dict[str, str]:
    """Published values by instance; "j3013_1.sm" names the file j30_13_1."""
    found = {}
    for path in paths:
        for row in csv.DictReader(path.open()):
            name = re.sub(r"^(j[369]0|j120)(\d+_\d+)\.sm$", r"\1_\2", row["problem"])
            found[name] = row["optimum"]
    return found


def run_shop(problem: PlanProblem, seed: int, work_s: float) -> None:
    watch = sys.stderr.isatty()

    def show(done: float) -> None:
        if watch:
            print(f"\r{done:4.0%}", end="", file=sys.stderr)

    as_one = replace(problem, tasks=tuple(replace(t, car="") for t in problem.tasks))
    for asked, aim in ((as_one, "for the last finish"), (problem, "for the cars' days")):
        began = time.perf_counter()
        found = plan(asked, seed=seed, work_s=work_s, progress=show)
        took = time.perf_counter() - began
        print(
            f"{len(problem.tasks)} tasks, {len(problem.people)} people, {aim}: "
            f"{found.days:.2f} working days, bound of them {found.days_least:.2f}, "
            f"gap {found.gap:.1%}, proved {found.proved}, {took:.1f} s"
        )
    began = time.perf_counter()
    day = promise(problem, found, seed=seed, why=False)
    days = [day.by(chance) / 1440 for chance in (0.5, 0.8, 0.95)]
    took = time.perf_counter() - began
    print(
        f"plan: day {found.finish_min / 1440:.1f} by the clock; promise: days "
        f"{', '.join(f'{one:.1f}' for one in days)}, {day.draws} draws, {took:.1f} s; "
        f"{day.chance_by(found.finish_min):.1%} of them end by the plan's finish"
    )
    began = time.perf_counter()
    day = promise(problem, found, seed=seed)
    drivers = sum(len(one.drivers) for one in (day, *day.cars.values()))
    ratio = (time.perf_counter() - began) / took
    print(f"with {drivers} drivers and overtime of each car: {ratio:.1f} times as long")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("directory", type=Path, nargs="?")
    asked.add_argument("--values", type=Path, nargs="*", default=[])
    asked.add_argument("--pattern", default="*.rcp")
    asked.add_argument("--shop", action="store_true")
    asked.add_argument("--cars", type=int, default=3)
    asked.add_argument("--tasks", type=int, default=150)
    asked.add_argument("--people", type=int, default=8)
    asked.add_argument("--seed", type=int, default=0)
    asked.add_argument("--work", type=float, default=10.0)
    told = asked.parse_args()
    if told.directory is not None:
        run_instances(told.directory, told.pattern, read_values(told.values), told.work)
    if told.shop:
        shop = make_shop(told.seed, cars=told.cars, tasks=told.tasks, people=told.people)
        run_shop(shop, told.seed, told.work)


if __name__ == "__main__":
    main()
