"""``asfound dossier``: the account of a car as PDF."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import click

from asfound import site
from asfound.cli.app import command, say
from asfound.cli.show import folder_argument, progress
from asfound.dossier import make_dossier
from asfound.exchange import read_folder


@command()
@folder_argument
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The PDF to write; FOLDER.pdf beside the folder if not given.",
)
@click.option(
    "--date",
    "made_on",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="The date the dossier bears (today). Same input and date, same bytes.",
)
def dossier(folder: Path, out: Path | None, made_on: datetime | None) -> None:
    """Write the dossier of the car in FOLDER: a PDF/A-3b with the tables attached."""
    car = read_folder(folder)
    out = out or folder.resolve().with_suffix(".pdf")
    day = (made_on or datetime.now(tz=UTC)).date()
    data = make_dossier(
        car,
        made_on=day,
        progress=progress("setting the dossier"),
        picture=pictures_of(folder) if car.files else None,
    )
    out.parent.mkdir(parents=True, exist_ok=True)
    draft = out.with_name(f".{out.name}.part")
    draft.write_bytes(data)
    draft.replace(out)
    say(f"{car.name}: {len(data) / 1e6:.1f} MB")
    click.echo(out)


def pictures_of(folder: Path) -> Callable[[str, str], bytes | None]:
    """Small pictures of the photographs that lie in the folder."""
    site.setup()
    from asfound.exchange.photographs import PRINT_PX, shown  # noqa: PLC0415 - needs Django set up

    root = folder.resolve()

    def picture(file: str, _sha256: str) -> bytes | None:
        place = (root / file).resolve()
        try:
            return shown(place, longest_px=PRINT_PX) if place.is_relative_to(root) else None
        except (OSError, ValueError, SyntaxError):
            return None

    return picture
