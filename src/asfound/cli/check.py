"""``asfound check``: whether a folder is a car folder."""

from __future__ import annotations

from pathlib import Path

import click

from asfound.cli.app import command, say
from asfound.cli.show import folder_argument, table
from asfound.exchange import read_folder
from asfound.exchange.pictures import PHOTO_FOLDER
from asfound.record.tables import TABLES


@command()
@folder_argument
def check(folder: Path) -> None:
    """Check every table of the car in FOLDER and tell all faults at once; writes nothing."""
    car = read_folder(folder)
    rows = [(TABLES[name].file, str(len(sheet))) for name, sheet in car.sheets.items()]
    rows += [("brief.json", "1")] if car.brief is not None else []
    rows += [("lift.json", "1")] if car.lift is not None else []
    rows += [("photos/", str(len(car.files)))] if car.files else []
    if len(car.sheet("photos")) and not (folder / PHOTO_FOLDER).is_dir():
        say("photos.csv was not compared: there is no folder photos/ here")
    click.echo(f"{car.name}: no fault found\n{table(('file', 'rows'), rows, align='lr')}")
