"""``asfound tasks``: tasks made from the signed decisions and from what comes off first."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from asfound.cli.app import command, say
from asfound.cli.show import folder_argument, json_option, print_json, table
from asfound.exchange import read_folder, write_folder
from asfound.record.convert.made_tasks import MadeTasks, made_tasks
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.made_tasks import beside_tasks, counted, made_tasks_json


@command()
@folder_argument
@json_option
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    help="Write the car with these tasks as a new folder.",
)
def tasks(folder: Path, as_json: bool, into: Path | None) -> None:
    """Make tasks from the signed decisions on the car in FOLDER; people then edit them."""
    car = read_folder(folder)
    made = made_tasks(car)
    if into is not None:
        if into.exists():
            raise click.BadParameter(f"{into} is there already.", param_hint="--into")
        write_folder(_with(car, made), into, open_file=lambda kept: (folder / kept.path).open("rb"))
        say(f"{counted(made.added, 'task')} added in {into}")
    for fault in made.faults:
        say(str(fault))
    for words in beside_tasks(made):
        say(words)
    if as_json:
        print_json(made_tasks_json(made))
    elif into is None:
        click.echo(_in_words(made))


def _with(car: CarFolder, made: MadeTasks) -> CarFolder:
    sheets = {**car.sheets, "tasks": _sheet(made.tasks), "task_links": _sheet(made.links)}
    return replace(car, sheets=sheets)


def _sheet(rows: tuple[dict[str, str], ...]) -> Sheet:
    columns = tuple(dict.fromkeys(name for row in rows for name in row))
    return Sheet(
        columns=columns,
        rows=tuple(tuple(row.get(name, "") for name in columns) for row in rows),
    )


def _in_words(made: MadeTasks) -> str:
    waits: dict[str, list[str]] = {}
    for link in made.links:
        waits.setdefault(link["after"], []).append(link["before"])
    return table(
        ("task", "trade", "hours", "after"),
        (
            (t["task"], t["trade"], t["hours_likely"], ", ".join(waits.get(t["task"], ())))
            for t in made.tasks
        ),
        align="llrl",
    )
