"""``asfound plan``: who does what, where and when, and the day that can be promised."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import click

from asfound.base import NoSolutionError
from asfound.cli.app import NO_ANSWER, command, say
from asfound.cli.show import (
    folder_argument,
    indented,
    json_option,
    print_json,
    progress,
    seed_option,
    table,
)
from asfound.exchange import read_folder
from asfound.plan import Plan, Promise, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.convert.plan import NO_DAY_NAMED, ShopQuestion, shop_question
from asfound.record.results.plan import CHANCES, no_plan_json, plan_json, promised


@command()
@folder_argument
@json_option
@seed_option
@click.option(
    "--seconds",
    "work_s",
    type=click.FloatRange(min=0, min_open=True),
    default=10.0,
    show_default=True,
    help="How long to search, in seconds of the solver's own clock, which is the same everywhere.",
)
@click.option(
    "--start",
    type=click.DateTime(["%Y-%m-%d"]),
    help="First day of the plan; else the first 'earliest' of the tasks.",
)
def plan(
    folder: Path, as_json: bool, seed: int, work_s: float, start: datetime | None
) -> int | None:
    """Plan the work on the car in FOLDER: people, bays, days, and the day to promise."""
    car = read_folder(folder)
    question = shop_question(car, start=start.date() if start else None)
    if question.first_day == NO_DAY_NAMED and start is None:
        say(f"no table names a day; the plan begins on {NO_DAY_NAMED}. Give one with --start.")
    try:
        found = plan_work(
            question.problem, seed=seed, work_s=work_s, progress=progress("looking for a plan")
        )
    except NoSolutionError as error:
        say(str(error))
        if as_json:
            print_json(no_plan_json(question, error.clash))
        else:
            click.echo("\n".join(error.clash))
        return NO_ANSWER
    day = promise_day(question.problem, found, seed=seed)
    critical = critical_tasks(question.problem, found)
    if as_json:
        print_json(plan_json(question, found, day, critical))
    else:
        click.echo("\n\n".join(_in_words(question, found, day, critical)))
    return None


def _in_words(
    question: ShopQuestion, plan: Plan, promise: Promise, critical: tuple[str, ...]
) -> Iterator[str]:
    if plan.proved:
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
    yield from _why(promise)


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


def _why(promise: Promise) -> Iterator[str]:
    if promise.drivers:
        lines = "; ".join(f"{d.task} {d.days_earlier:.1f} d" for d in promise.drivers)
        yield "What makes it late, by the days won at a chance of 80 % if it took its likely " + (
            f"hours for certain:\n{indented(lines)}"
        )
    if promise.overtime:
        lines = "; ".join(f"{o.hours_a_day:.1f} h by {o.person}" for o in promise.overtime)
        yield f"What a day earlier costs, in hours of overtime:\n{indented(lines)}"
