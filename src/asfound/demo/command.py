"""``asfound demo``: everything once, on an invented car."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path

import click

from asfound import site
from asfound.demo import write
from asfound.demo.talk import told_of_accounts, told_of_choice, told_of_places, told_of_survey
from asfound.dossier import make_dossier

_INVENTED = "Everything here is invented: the marque, the car, its people and every reading."


@click.command()
@click.option("--no-serve", is_flag=True, help="End after writing, without serving the pages.")
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", type=click.IntRange(0, 65535), default=8000, show_default=True)
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder for the car folder and the dossier; `demo` in the home of asfound if not given.",
)
def demo(no_serve: bool, host: str, port: int, out: Path | None) -> None:
    """Read, choose, write the dossier and serve the pages, on an invented car.

    A second run finds the car as you left it, and sets new passwords.
    """
    site.setup()
    site.migrate()
    from django.conf import settings  # noqa: PLC0415 - reads the environment when imported

    from asfound.demo import shelf  # noqa: PLC0415 - models need Django set up
    from asfound.demo.findings import find  # noqa: PLC0415
    from asfound.record.convert.stored import folder_of  # noqa: PLC0415
    from asfound.record.derived import film_reading  # noqa: PLC0415

    out = (out or Path(settings.ASFOUND_HOME) / "demo").absolute()
    _write_once(out / "car")
    stored = shelf.load_once()
    car = folder_of(stored)
    click.echo(f"{_INVENTED}\n\n{told_of_survey(car, film_reading(car))}\n")
    click.echo(f"{told_of_choice(car, find(car))}\n")

    dossier = out / "dossier.pdf"
    _write(dossier, make_dossier(car, made_on=datetime.now(tz=UTC).date()))
    click.echo(told_of_places((("Dossier", str(dossier)), ("Car folder", str(out / "car")))))
    accounts = shelf.open_accounts(stored)
    if no_serve:
        click.echo(told_of_accounts("`asfound serve` opens the pages", accounts))
        return
    server = site.server(host=host, port=port)
    click.echo(told_of_accounts(server.address, accounts))
    click.echo("\nCtrl-C ends the pages.")
    sys.stdout.flush()
    server.run()
    click.echo("\nThe pages are closed; `asfound demo` opens them again.")


def _write_once(place: Path) -> None:
    """The car folder; one that lies there already is left as it is."""
    if not (place.is_dir() and any(place.iterdir())):
        write(place)


def _write(file: Path, data: bytes) -> None:
    """All or nothing, so that nobody opens half a dossier."""
    draft = file.with_name(f".{file.name}.part")
    draft.write_bytes(data)
    draft.replace(file)
