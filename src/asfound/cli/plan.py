"""``asfound plan``: who does what, where and when, and the day that can be promised."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import click

from asfound.base import NoSolutionError
from asfound.cli.app import NO_ANSWER, command, say
from asfound.cli.cars_asked import cars_asked
from asfound.cli.enough import best_at_interrupt
from asfound.cli.show import (
    Seconds,
    indented,
    json_option,
    print_json,
    seed_option,
    table,
)
from asfound.exchange import read_folder
from asfound.plan import Past, Plan, Promise, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.convert.in_shop import in_shop, past_promises, promised_min
from asfound.record.convert.past import (
    NO_PAST,
    finished,
    past_json,
    past_of,
    past_words,
    shared_words,
    with_past,
)
from asfound.record.convert.plan import NO_DAY_NAMED, ShopQuestion, shop_question
from asfound.record.convert.shop import CarAtWork, cars_question, task_name
from asfound.record.results.plan import (
    CHANCES,
    no_plan_json,
    plan_json,
    promised,
    promised_json,
)
from asfound.record.results.shop import cars_json


@command()
@click.argument(
    "folders", metavar="FOLDER…", nargs=-1, required=True, type=click.Path(path_type=Path)
)
@json_option
@seed_option
@click.option(
    "--seconds",
    "work_s",
    type=Seconds(),
    default=10.0,
    show_default=True,
    help="How long to search, in seconds of the solver's own clock, which is the same everywhere.",
)
@click.option(
    "--start",
    type=click.DateTime(["%Y-%m-%d"]),
    help="First day of the plan; else the first 'earliest' of the tasks.",
)
@click.option(
    "--priority",
    "priorities",
    metavar="CAR=N",
    multiple=True,
    help="Weight of a car's finish against the others', else what in_shop.csv says, else 1; CAR is "
    "its folder's name.",
)
@click.option(
    "--promised",
    "promises",
    metavar="CAR=DAY",
    multiple=True,
    help="Day told to the owner, else what in_shop.csv says; among several cars a day after it "
    "counts ten times.",
)
@click.option(
    "--shop",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Folder with the workshop's people.csv, bays.csv, closed_days.csv, for cars without.",
)
@click.option(
    "--no-past",
    is_flag=True,
    help="Take the hours as written, whatever finished work says of such estimates.",
)
def plan(
    folders: tuple[Path, ...],
    as_json: bool,
    seed: int,
    work_s: float,
    start: datetime | None,
    priorities: tuple[str, ...],
    promises: tuple[str, ...],
    shop: Path | None,
    no_past: bool,
) -> int | None:
    """Plan the work on the cars in FOLDER…: people, bays, days, and the days to promise.

    Several cars are planned together: they share the people and bays that their folders name.
    Ctrl-C ends the search with the best plan so far.
    """
    shared = read_folder(shop).sheets if shop else {}
    cars = cars_asked(folders, priorities=priorities, promises=promises, shared=shared)
    question = _question(cars, start.date() if start else None)
    question, past = (question, NO_PAST) if no_past else _learned(question, folders)
    if question.first_day == NO_DAY_NAMED and start is None:
        say(f"no table names a day; the plan begins on {NO_DAY_NAMED}. Give one with --start.")
    try:
        with best_at_interrupt("looking for a plan", "the best plan") as watched:
            found = plan_work(question.problem, seed=seed, work_s=work_s, progress=watched)
    except NoSolutionError as error:
        say(str(error))
        if as_json:
            print_json(no_plan_json(question, error.clash))
        else:
            click.echo("\n".join(error.clash))
        return NO_ANSWER
    day = promise_day(question.problem, found, seed=seed, shared=past.shared)
    critical = critical_tasks(question.problem, found)
    if as_json:
        told = cars_json if len(folders) > 1 else plan_json
        stopped = {"stopped": True} if watched.asked.is_set() else {}
        print_json(told(question, found, day, critical) | past_json(past) | stopped)
    else:
        words = (*_in_words(question, found, day, critical), *_past(past))
        click.echo("\n\n".join(words))
    return None


def _learned(question: ShopQuestion, folders: tuple[Path, ...]) -> tuple[ShopQuestion, Past]:
    """The question with what the folders' finished tasks say of estimates, and that."""
    cars = {folder.resolve().name: read_folder(folder) for folder in folders}
    past = past_of(cars.values())
    done = {
        name
        for car, folder in cars.items()
        for task in finished(folder)
        for name in (task, task_name(car, task))
    }
    return with_past(question, past, done=done), past


def _past(past: Past) -> Iterator[str]:
    """What finished work says, where there is any."""
    if past.jobs:
        lines = ";\n".join(past_words(past))
        yield (
            f"Hours still to be worked are multiplied by what finished tasks say (not with "
            f"--no-past):\n{indented(lines)}\nDoubt within a trade is {shared_words(past)}."
        )


def _question(cars: list[CarAtWork], start: date | None) -> ShopQuestion:
    """What is to be planned: one car by itself, or several in one shop."""
    if len(cars) > 1:
        question = cars_question(cars, start=start)
    else:
        question = shop_question(cars[0].folder, start=start)
    told = {car.name if len(cars) > 1 else "": car.folder for car in cars}
    for fault in past_promises(told, question.first_day):
        say(str(fault))
    places = {name: in_shop(folder).promised for name, folder in told.items()}
    promised = {name: day for name, day in places.items() if day is not None}
    minutes = promised_min(promised, question.first_day)
    return replace(question, problem=replace(question.problem, promised_min=minutes))


def _in_words(
    question: ShopQuestion, plan: Plan, promise: Promise, critical: tuple[str, ...]
) -> Iterator[str]:
    if plan.cost is not None:
        most = (
            "no plan does better" if plan.proved else f"a better plan wins at most {plan.gap:.1%}"
        )
        sure = f"days of each car weighed by its priority: {most}"
    elif plan.proved:
        sure = "no plan can be shorter"
    else:
        sure = f"none can be shorter than {plan.days_least:.1f}; gap {plan.gap:.1%}"
    yield (
        f"{plan.days:.1f} working days from {question.first_day} to "
        f"{question.at(plan.finish_min):%Y-%m-%d %H:%M} ({sure})."
    )
    yield (
        table(
            ("", "task", "from", "to", "people", "bay"),
            (_row(question, plan, i, critical) for i in range(len(plan.placed))),
            align="llllll",
        )
        + "\n* sets the finish"
    )
    yield table(
        ("chance", "finished on"),
        ((f"{chance:.0%}", promised(question, promise, chance)) for chance in CHANCES.values()),
        align="rl",
    )
    yield (
        f"The plan takes the likely hours; {promise.chance_by(plan.finish_min):.0%} of "
        f"{promise.draws:,} draws of the hours end by its finish."
    )
    yield from _cars(question, plan, promise)
    yield from _kept(question, promise)
    yield from _why(promise)
    for car, own in promise.cars.items():
        yield from _why(own, car)


def _row(
    question: ShopQuestion, plan: Plan, index: int, critical: tuple[str, ...]
) -> tuple[str, ...]:
    placed = plan.placed[index]
    return (
        "*" if placed.task in critical else "",
        placed.task,
        f"{question.at(placed.start_min):%a %Y-%m-%d %H:%M}",
        f"{question.at(placed.end_min):%a %Y-%m-%d %H:%M}",
        ", ".join(placed.people),
        ", ".join(question.problem.named[placed.task].bays),
    )


def _cars(question: ShopQuestion, plan: Plan, promise: Promise) -> Iterator[str]:
    """Each car's finish and the days that can be promised, where there are several."""
    if promise.cars:
        yield table(
            ("car", "priority", "finish", *(f"{chance:.0%}" for chance in CHANCES.values())),
            (
                (
                    car,
                    f"{question.problem.priority.get(car, 1.0):g}",
                    f"{question.at(plan.cars[car]):%Y-%m-%d %H:%M}",
                    *(promised(question, promise.of(car), chance) for chance in CHANCES.values()),
                )
                for car in promise.cars
            ),
            align="lrllll",
        )


def _kept(question: ShopQuestion, promise: Promise) -> Iterator[str]:
    """Each promised day with the chance that it is kept."""
    days = {
        car: promised_json(question, promise.of(car) if promise.cars else promise, car)
        for car in question.problem.promised_min
    }
    if days:
        yield table(
            ("promised", "day", "kept with"),
            (
                (car or "the car", one["promised"], f"{one['kept']:.0%}")
                for car, one in days.items()
            ),
            align="llr",
        )


def _why(promise: Promise, of: str = "") -> Iterator[str]:
    it, of = of or "it", f" for {of}" if of else ""
    if promise.drivers:
        lines = "; ".join(f"{d.task} {d.days_earlier:.1f} d" for d in promise.drivers)
        yield (
            f"What makes {it} late, by the days won at a chance of 80 % if it took its likely "
            + (f"hours for certain:\n{indented(lines)}")
        )
    if promise.overtime:
        lines = "; ".join(f"{o.hours_a_day:.1f} h by {o.person}" for o in promise.overtime)
        yield f"What a day earlier costs{of}, in hours of overtime:\n{indented(lines)}"
