"""``asfound plan``: who does what, where and when, and the day that can be promised."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import click

from asfound.base import NoSolutionError
from asfound.cli.app import NO_ANSWER, command, say
from asfound.cli.cars_asked import cars_asked
from asfound.cli.enough import best_at_interrupt
from asfound.cli.plan_words import plan_words
from asfound.cli.show import (
    Seconds,
    json_option,
    print_json,
    seed_option,
)
from asfound.exchange import read_folder
from asfound.plan import Past, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.convert.in_shop import in_shop, past_promises, promised_min
from asfound.record.convert.past import (
    NO_PAST,
    finished,
    past_json,
    past_of,
    with_past,
)
from asfound.record.convert.plan import NO_DAY_NAMED, ShopQuestion, shop_question
from asfound.record.convert.shop import CarAtWork, cars_question, task_name
from asfound.record.results.plan import (
    no_plan_json,
    plan_json,
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
        click.echo("\n\n".join(plan_words(question, found, day, critical, past=past)))
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
