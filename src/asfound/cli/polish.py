"""``asfound polish``: what passes took and how many may follow."""

from __future__ import annotations

from pathlib import Path

import click

from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.craft.cautions import DEFER, cautions_for
from asfound.exchange import read_folder
from asfound.measure.polish import STAY_PROBABILITY, AreaBudget, PolishResult
from asfound.record.derived import polish_reading
from asfound.record.results.polish import area_name, passes_words, polish_json, process_name


@command()
@folder_argument
@json_option
@click.option(
    "--probability",
    type=float,
    default=STAY_PROBABILITY,
    show_default=True,
    help="Asked chance that every spot stays above its floor, 0.5 or more and below 1.",
)
def polish(folder: Path, as_json: bool, probability: float) -> None:
    """Say what passes of polish take on the car in FOLDER, and how many may follow."""
    result = polish_reading(read_folder(folder), stay_probability=probability)
    if as_json:
        print_json(polish_json(result))
    else:
        click.echo(_in_words(result))


def _in_words(result: PolishResult) -> str:
    passes = table(
        ("area", "process", "µm a pass", "± (95 %)", "spots"),
        (
            (
                area_name(r.panel, r.area),
                process_name(r.process),
                f"{r.removal.per_pass_um.value:.1f}",
                f"{r.removal.per_pass_um.expanded(coverage=0.95):.1f}",
                str(r.removal.spots_n),
            )
            for r in result.removals
        ),
        align="llrrr",
    )
    asked = f"Passes that keep every spot above its floor with {result.asked_probability:.0%}:"
    areas = "\n\n".join(_area(a) for a in result.areas)
    dangers = "\n".join(
        indented(f"{c.hazard}: {c.do} ({c.source})") for c in cautions_for(["polish"])
    )
    return f"{passes}\n\n{asked}\n\n{areas}\n\nCautions. {DEFER}\n{dangers}"


def _area(area: AreaBudget) -> str:
    floor = area.floor
    ground = f"floor {floor.floor.film_um:.0f} µm, {floor.floor.basis}" if floor else "no floor set"
    lines = [f"{area_name(area.panel, area.area)}: {ground}"]
    thinnest = area.spots[0] if area.spots else None
    if thinnest and thinnest.over_floor_um:
        over = thinnest.over_floor_um
        lines.append(
            f"  thinnest: spot {thinnest.present.spot}, {over.value:.0f} ± "
            f"{over.expanded(coverage=0.95):.0f} µm above the floor"
        )
    lines += [indented(f"{process_name(p.process)}: {passes_words(p)}") for p in area.processes]
    return "\n".join([*lines, *(indented(words) for words in area.cautions)])
