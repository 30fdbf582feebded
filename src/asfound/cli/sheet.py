"""``asfound sheet``: a car's panels drawn to scale from a few tape measurements."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from asfound.cli.app import command, say
from asfound.cli.show import table
from asfound.exchange import write_folder
from asfound.measure.sheet import BodyForm, TapeMeasurements, complete, unfolded_sheet
from asfound.record.convert.sheet import panels_sheet
from asfound.record.folder import CarFolder, Sheet

_LENGTHS = dataclasses.fields(TapeMeasurements)
_IDENTITY = ("marque", "model", "body_style", "built")


def _lengths(command: Callable[..., Any]) -> Callable[..., Any]:
    """An option for every tape measurement, in mm."""
    for length in reversed(_LENGTHS):
        command = click.option(
            f"--{length.name.removesuffix('_mm').replace('_', '-')}",
            length.name,
            type=float,
            required=length.default is dataclasses.MISSING,
            help="mm",
        )(command)
    return command


@command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--form",
    type=click.Choice([form.value for form in BodyForm]),
    required=True,
    help="Body form.",
)
@click.option("--separate-wings", is_flag=True, help="Wings apart from the body, as on older cars.")
@click.option("--marque", default="", help="Of the car; goes with model and year.")
@click.option("--model", default="", help="Of the car; goes with marque and year.")
@click.option("--built", default="", help="Year or EDTF date; goes with marque and model.")
@_lengths
def sheet(
    folder: Path,
    form: str,
    separate_wings: bool,
    marque: str,
    model: str,
    built: str,
    **lengths_mm: float | None,
) -> None:
    """Draw the panels of a car to scale and write them as a new car folder FOLDER.

    Four lengths are needed; those nobody taped are assumed in the usual proportions and named.
    Height is to the roof, of an open car to the scuttle.
    """
    identity = (marque, model, form, built)
    if any((marque, model, built)) and not all(identity):
        raise click.UsageError("--marque, --model and --built go together; give all three or none.")
    body, tape = BodyForm(form), TapeMeasurements(**lengths_mm)  # type: ignore[arg-type]
    panels = unfolded_sheet(body, tape, separate_wings=separate_wings)
    sheets = {"panels": panels_sheet(panels)}
    if all(identity):
        sheets = {"car": Sheet(columns=_IDENTITY, rows=(identity,)), **sheets}
    write_folder(CarFolder(sheets=sheets), folder)
    assumed = complete(body, tape, separate_wings=separate_wings).assumed
    if assumed:
        said = (_in_words(name, body) for name in assumed)
        say(f"assumed, for nobody taped it: {', '.join(said)}")
    areas = ((p.panel, p.view, f"{p.area_m2:.2f}") for p in panels)
    click.echo(table(("panel", "view", "m²"), areas, align="llr"))


def _in_words(name: str, body: BodyForm) -> str:
    """Length as people say it; of a pick-up the length behind the cab is its bed's."""
    if name == "boot_mm":
        return "bed" if body.load_bed else "boot lid"
    return name.removesuffix("_mm").replace("_", " ")
