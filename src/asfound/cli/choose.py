"""``asfound choose``: the choice over the whole car."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from asfound.base import NoSolutionError
from asfound.choose import Brief, Choice, Front, Problem, Why, explain, front, notices, turnings
from asfound.choose import choose as choose_exactly
from asfound.cli.app import NO_ANSWER, command, say
from asfound.cli.show import (
    Seconds,
    folder_argument,
    indented,
    json_option,
    print_json,
    progress,
    table,
)
from asfound.exchange import read_folder
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.locks import decided_words
from asfound.record.convert.significance import weight_words
from asfound.record.results.choice import choice_json


@command()
@folder_argument
@json_option
@click.option("--points", type=click.IntRange(min=2), help="At most so many points of the front.")
@click.option(
    "--time-limit",
    "time_limit_s",
    type=Seconds(),
    default=60.0,
    show_default=True,
    help="Seconds after which the best choice so far is given, unproved.",
)
def choose(folder: Path, as_json: bool, points: int | None, time_limit_s: float) -> int | None:
    """Choose a treatment for every piece of the car in FOLDER, within the owner's brief."""
    car = read_folder(folder)
    problem = choice_problem(car)
    for words in notices(problem):
        say(words)
    try:
        choice = choose_exactly(problem, time_limit_s=time_limit_s)
    except NoSolutionError as error:
        say(str(error))
        if as_json:
            print_json(choice_json(choice=None, front=None, whys=(), clash=error.clash))
        else:
            click.echo("\n".join(error.clash))
        return NO_ANSWER
    line = front(problem, points=points, within_brief=True, progress=progress("drawing the front"))
    whys = explain(problem, choice, progress=progress("asking why"))
    if as_json:
        turned = turnings(
            problem,
            choice,
            [why.subject for why in whys],
            progress=progress("asking when it turns"),
        )
        print_json(choice_json(choice=choice, front=line, whys=whys, clash=(), turnings=turned))
    else:
        click.echo(_in_words(problem, choice, line, whys, decided_words(car), weight_words(car)))
    return None


def _because(why: Why) -> str:
    if why.proved:
        return why.because
    return f"{why.because} (by exchanging this piece alone; time was too short to choose again)"


def _in_words(
    problem: Problem,
    choice: Choice,
    line: Front,
    whys: tuple[Why, ...],
    decided: Mapping[str, tuple[str, ...]],
    graded: Mapping[str, str],
) -> str:
    proved = "proved best" if choice.proved else f"not proved best: gap {choice.gap:.2%}"
    weights = "\n".join(indented(f"{name}: {words}") for name, words in graded.items())
    points = table(
        ("cost", "kept"),
        ((f"{point.cost:,.6g}", f"{point.kept:.1%}") for point in line.points),
        align="rr",
    )
    return "\n\n".join(
        (
            f"Keeps {choice.kept:.1%} of the original fabric ({proved}).",
            _totals(problem.brief, choice),
            _pieces(choice, whys, decided),
            *([f"Weights made of graded criteria\n{weights}"] if weights else []),
            f"The front: what could be kept for less\n{points}",
        )
    )


def _totals(brief: Brief, choice: Choice) -> str:
    """Money and hours beside their limits."""
    limits = [("cost", choice.cost, brief.cost_max)]
    limits += [
        (f"hours of {trade}", hours, brief.hours_max.get(trade))
        for trade, hours in choice.hours.items()
    ]
    return table(
        ("", "chosen", "limit"),
        (
            (name, f"{value:,.6g}", "–" if limit is None else f"{limit:,.6g}")
            for name, value, limit in limits
        ),
        align="lrr",
    )


def _pieces(choice: Choice, whys: tuple[Why, ...], decided: Mapping[str, tuple[str, ...]]) -> str:
    """Each piece with its option, why, and what people decided of it."""
    reason = {why.subject: _because(why) for why in whys}
    return "\n".join(
        "\n".join(
            (
                f"{subject}: {option}",
                *map(indented, (reason.get(subject, ""), *decided.get(subject, ()))),
            )
        )
        for subject, option in choice.options.items()
    )
