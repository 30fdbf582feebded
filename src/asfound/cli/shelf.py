"""``asfound load``, ``dump`` and ``cars``: cars into the record and out of it."""

from __future__ import annotations

import tempfile
from pathlib import Path

import click

from asfound import site
from asfound.cli.app import command, say
from asfound.cli.show import folder_argument, table
from asfound.exchange import read_folder, unpack_folder, write_folder
from asfound.record.as_files import for_owner as without_workshops
from asfound.record.faults import Fault, InputFaultsError


@command()
@folder_argument
@click.option("--replace", is_flag=True, help="Replace the car of that name, keeping its people.")
def load(folder: Path, replace: bool) -> None:
    """Load the car in FOLDER (or a zip file of it) into the record, whole or not at all."""
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        place = _unpacked(folder, Path(scratch)) if folder.is_file() else folder
        read = read_folder(place)
        site.setup()
        site.migrate()
        from asfound.record.actions import load_car  # noqa: PLC0415 - models need Django set up
        from asfound.record.convert.carried import returned  # noqa: PLC0415
        from asfound.record.reads.workshop import workshop_sheets  # noqa: PLC0415

        left = returned(read, workshop_sheets()).words()
        car = load_car(
            folder=read,
            by=None,
            open_file=lambda kept: (place / kept.path).open("rb"),
            replace=replace,
        )
    if left:
        say(left)
    click.echo(car.slug)


@command()
@click.argument("car")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--for-owner",
    is_flag=True,
    help="Leave out what suppliers asked, what hours are charged at, and the workshop's people.",
)
def dump(car: str, folder: Path, for_owner: bool) -> None:
    """Write the CAR of the record as a car folder FOLDER, which must not exist yet.

    Where the car is planned with the workshop's people, bays and closed days, those that its tasks
    ask for go with it; loaded again, they are the workshop's as before.
    """
    site.setup()
    site.migrate()
    from asfound.record.actions import open_kept_file  # noqa: PLC0415 - models need Django set up
    from asfound.record.convert.carried import carried  # noqa: PLC0415
    from asfound.record.convert.stored import folder_of  # noqa: PLC0415
    from asfound.record.models import Car  # noqa: PLC0415
    from asfound.record.reads.workshop import workshop_sheets  # noqa: PLC0415

    try:
        stored = Car.objects.get(slug=car)
    except Car.DoesNotExist:
        fault = Fault(
            file="the record",
            column="car",
            value=car,
            rule="there is no car of that name",
            remedy="Ask `asfound cars` for the names.",
        )
        raise InputFaultsError((fault,)) from None
    held = folder_of(stored)
    told = without_workshops(held) if for_owner else carried(held, workshop_sheets())
    write_folder(told, folder, open_file=open_kept_file)
    click.echo(folder)


@command()
def cars() -> None:
    """List the cars of the record with the name that other commands take."""
    site.setup()
    site.migrate()
    from asfound.record.models import Car  # noqa: PLC0415 - models need Django set up

    click.echo(
        table(("name", "car"), ((car.slug, str(car)) for car in Car.objects.all()), align="ll")
    )


def _unpacked(file: Path, scratch: Path) -> Path:
    with file.open("rb") as source:
        return unpack_folder(source, scratch, file=file.name)
