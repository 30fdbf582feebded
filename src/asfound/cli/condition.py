"""``asfound condition``: the condition report of a car, a panel or a part as PDF."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from asfound.base import InputError
from asfound.cli.app import command, say
from asfound.cli.dossier import pictures_of
from asfound.cli.show import folder_argument, progress
from asfound.dossier import make_condition_report
from asfound.exchange import read_folder
from asfound.record.convert.findings import findings_of
from asfound.record.folder import CarFolder


@command()
@folder_argument
@click.option("--of", "subject", default="", help="A panel or part by its name; else the car.")
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The PDF to write; FOLDER-condition.pdf beside the folder if not given.",
)
@click.option(
    "--date",
    "made_on",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="The date the report bears (today). Same input and date, same bytes.",
)
def condition(folder: Path, subject: str, out: Path | None, made_on: datetime | None) -> None:
    """Write what was found on the car in FOLDER, its opinions apart: a PDF/A-3b."""
    car = read_folder(folder)
    if subject:
        _check_is_there(car, subject)
    resolved = folder.resolve()
    out = out or resolved.with_name(f"{resolved.name}-condition.pdf")
    data = make_condition_report(
        car,
        made_on=(made_on or datetime.now(tz=UTC)).date(),
        subject=subject,
        picture=pictures_of(folder) if car.files else None,
        progress=progress("setting the report"),
    )
    out.parent.mkdir(parents=True, exist_ok=True)
    draft = out.with_name(f".{out.name}.part")
    draft.write_bytes(data)
    draft.replace(out)
    count = len(findings_of(car, subject=subject))
    say(f"{subject or car.name}: {count} finding{'' if count == 1 else 's'}")
    click.echo(out)


def _check_is_there(car: CarFolder, subject: str) -> None:
    known = {row.text("panel") for row in car.sheet("panels")}
    known |= {row.text("part") for row in car.sheet("parts")}
    known |= {row.text("subject") for row in car.sheet("findings")}
    if subject not in known:
        raise InputError(
            field="--of", got=subject, allowed="a panel, a part's number, or what a finding is on"
        )
