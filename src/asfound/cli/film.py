"""``asfound film``: what the film readings say."""

from __future__ import annotations

import textwrap
from pathlib import Path

import click

from asfound.cli.app import command
from asfound.cli.show import folder_argument, json_option, print_json, progress, seed_option, table
from asfound.exchange import read_folder
from asfound.measure.film import FilmReading, read_film
from asfound.record.convert.film import film_survey
from asfound.record.results.film import TWO_SIDED, film_json, panel_words


@command()
@folder_argument
@json_option
@seed_option
def film(folder: Path, as_json: bool, seed: int) -> None:
    """Read the finish of the car in FOLDER: later work, and where to measure next."""
    survey = film_survey(read_folder(folder))
    reading = read_film(survey, seed=seed, progress=progress("reading the film"))
    if as_json:
        print_json(film_json(reading))
    else:
        click.echo(_in_words(reading))


def _in_words(reading: FilmReading) -> str:
    level = reading.level_um
    panels = table(
        ("panel", "spots", "median µm", "p later work", "reading"),
        (
            (
                panel.panel,
                str(panel.spots_n),
                f"{panel.median_um:.0f}" if panel.spots_n else "–",
                f"{panel.p_later_work:.2f}",
                panel_words(panel),
            )
            for panel in reading.panels
        ),
        align="lrrrl",
    )
    nearest = "\n".join(
        f"  {i}. {spot.panel} at x {spot.x_mm:.0f}, y {spot.y_mm:.0f} mm"
        for i, spot in enumerate(reading.next_spots, start=1)
    )
    return (
        f"Where it reads as undisturbed, the film of this car lies at {level.value:.0f} µm, "
        f"standard\nuncertainty {level.u:.0f} µm.\n\n{panels}\n\n"
        f"{textwrap.fill(TWO_SIDED, width=88)}\n\nMeasure next:\n{nearest}"
    )
