"""``asfound colour``: what the colour readings say."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, progress, table
from asfound.exchange import read_folder
from asfound.measure.colour import CarColour, ViewedColour
from asfound.measure.film import read_film
from asfound.record.convert.colour import instrument_doubt, thresholds_of
from asfound.record.convert.film import film_survey
from asfound.record.convert.neighbours import PROPOSED, neighbours_of
from asfound.record.derived import colour_reading
from asfound.record.folder import CarFolder
from asfound.record.results.colour import colour_json
from asfound.record.results.colour_words import (
    ASSUMPTION,
    DISAGREE,
    BothSigns,
    both_signs,
    fade_words,
    judged,
    lr_figure,
    lr_words,
)
from asfound.weigh import SCALE


@command()
@folder_argument
@json_option
def colour(folder: Path, as_json: bool) -> None:
    """Read the colour of the car in FOLDER: fade, seams, and panels off the car's colour."""
    car = read_folder(folder)
    reading = colour_reading(car)
    both = _with_film(car, reading)
    if as_json:
        print_json(colour_json(reading, car, both=both))
    else:
        click.echo("\n\n".join(_in_words(car, reading, both)))


def _with_film(car: CarFolder, colour: CarColour) -> tuple[BothSigns, ...]:
    """Film beside colour, where the film was read too."""
    if not len(car.sheet("film")) or not any(group.signs for group in colour.groups):
        return ()
    try:
        film = read_film(film_survey(car), progress=progress("reading the film"))
    except NotEnoughEvidenceError:
        return ()
    return both_signs(film, colour)


def _in_words(car: CarFolder, reading: CarColour, both: tuple[BothSigns, ...]) -> Iterator[str]:
    doubt = instrument_doubt(car)
    yield f"Standard uncertainty of one reading: {doubt.u:g} CIELAB ({doubt.source})."
    for group in reading.groups:
        yield _head(group)
        yield from _fades(group)
        yield from _seams(group, car)
        yield from _signs(group)
        yield from group.unsaid
    if both:
        yield _both(both)
        yield ASSUMPTION
    yield f"Words of support: {SCALE}."


def _head(group: ViewedColour) -> str:
    viewing = group.viewing
    told = f"Light {viewing.illuminant}, observer {viewing.observer}: {group.readings_n} readings."
    return told if viewing.is_stated else f"{told} Compared only within themselves."


def _fades(group: ViewedColour) -> Iterator[str]:
    if group.fades:
        rows = (
            (
                fade.subject,
                _with_u(fade.change.delta_e00),
                _with_u(fade.change.delta_l, sign=True),
                _with_u(fade.change.delta_c, sign=True),
                _with_u(fade.change.delta_h, sign=True),
                fade.grey.name,
                fade_words(fade),
            )
            for fade in group.fades
        )
        head = ("fade, exposed less hidden", "ΔE00", "ΔL*", "ΔC*", "ΔH*", "grey step", "reading")
        yield table(head, rows, align="lrrrrll")


def _seams(group: ViewedColour, car: CarFolder) -> Iterator[str]:
    if not group.seams:
        return
    whence = f" ({PROPOSED})" if neighbours_of(car).proposed else ""
    rows = (
        (f"{s.first} | {s.second}", _with_u(s.change.delta_e00), s.grey.name) for s in group.seams
    )
    yield table((f"seam{whence}", "ΔE00", "grey step"), rows, align="lrl")
    worst = group.seams[0]
    said = judged(worst.change, thresholds_of(car))
    yield f"Of the worst seam, {worst.first} | {worst.second}, the thresholds say:\n" + "\n".join(
        indented(f"{j.says} ({j.threshold.field or 'field not stated'}; {j.threshold.source})")
        for j in said
    )
    yield DISAGREE


def _signs(group: ViewedColour) -> Iterator[str]:
    if not group.signs:
        return
    rows = (
        (
            found.sign.subject,
            _with_u(found.sign.away_e00),
            lr_figure(found.sign.lr_later_work),
            lr_words(found.sign.lr_later_work)
            + ("; its own fade is as large" if found.sun_may_explain else ""),
        )
        for found in group.signs
    )
    yield table(
        ("panel off the car's colour", "ΔE00", "LR", "the colour gives"), rows, align="lrrl"
    )


def _both(both: tuple[BothSigns, ...]) -> str:
    rows = (
        (
            signs.panel,
            lr_figure(signs.film_lr),
            lr_figure(signs.colour_lr),
            "–" if signs.joint_lr is None else lr_figure(signs.joint_lr),
            signs.why_not or lr_words(signs.joint_lr or signs.film_lr),
        )
        for signs in both
    )
    head = ("film and colour", "film LR", "colour LR", "together", "together they give")
    return table(head, rows, align="lrrrl")


def _with_u(estimate: Estimate, *, sign: bool = False) -> str:
    return f"{estimate.value:{'+' if sign else ''}.1f} (u {estimate.u:.1f})"
