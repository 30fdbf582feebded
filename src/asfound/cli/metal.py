"""``asfound metal``: what is left of the sheet metal."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from asfound.base import Estimate
from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.measure.metal import CarMetal, SubjectMetal
from asfound.record.convert.metal import assumed_for
from asfound.record.derived import metal_reading
from asfound.record.folder import CarFolder
from asfound.record.results.metal import (
    BARE_STEEL,
    LEAST_CAUTION,
    METHOD_BLIND,
    life_words,
    loss_words,
    metal_json,
    nominal_words,
)


@command()
@folder_argument
@json_option
def metal(folder: Path, as_json: bool) -> None:
    """Read the sheet metal of the car in FOLDER: loss against nominal, and how long it lasts."""
    car = read_folder(folder)
    reading = metal_reading(car)
    if as_json:
        print_json(metal_json(reading, car))
    else:
        click.echo("\n\n".join(_in_words(reading, car)))


def _in_words(reading: CarMetal, car: CarFolder) -> Iterator[str]:
    head = (
        "panel or part",
        "when new",
        "places",
        "left mm",
        "thinnest",
        "loss mm",
        "share",
        "metal lost?",
    )
    yield table(head, map(_row, reading.subjects), align="llrrrrrl")
    quiet = [s.about.subject for s in reading.subjects if s.loss and not s.loss.told_apart]
    if quiet:
        yield f"{indented(METHOD_BLIND + ', '.join(quiet) + '.')}"
    for found in reading.subjects:
        if found.about.least_mm is not None:
            yield f"{found.about.subject}, how long it lasts:\n{indented(life_words(found))}"
    if reading.bare is not None:
        bare = reading.bare
        yield (
            f"Bare steel in this car's air: {bare.low_um:.0f} to {bare.high_um:.0f} µm in "
            f"{bare.years:.0f} years.\n{indented(BARE_STEEL)}"
        )
    for assumed in assumed_for(car):
        yield f"Assumed:\n{indented(assumed.what)}\n{indented(assumed.remedy)}"
    yield LEAST_CAUTION


def _row(found: SubjectMetal) -> tuple[str, ...]:
    loss = found.loss
    return (
        found.about.subject,
        nominal_words(found.about.nominal),
        str(len(found.places)),
        _with_u(found.left_mm),
        f"{found.thinnest_mm.value:.2f}",
        "–" if loss is None else _with_u(loss.mean_loss_mm),
        "–" if loss is None else f"{loss.loss_share:.0%}",
        loss_words(found),
    )


def _with_u(estimate: Estimate) -> str:
    return f"{estimate.value:.2f} (u {estimate.u:.2f})"
