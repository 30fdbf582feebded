"""``asfound odometer``: whether the dated readings agree, and which distances fit them."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

import click

from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.record.convert.odometer import odometer_readings
from asfound.record.results.aside import aside_json, aside_words
from asfound.record.results.odometer import (
    BAND,
    FROM_NEW,
    changes_words,
    distance_words,
    grouped,
    odometer_json,
    story_rates,
    story_span,
)
from asfound.weigh.odometer import (
    KM_IN,
    MOST_CHANGES,
    SOURCE,
    OdometerResult,
    Unit,
    YearlyRate,
    read_odometer,
)


@command()
@folder_argument
@json_option
def odometer(folder: Path, as_json: bool) -> None:
    """Say which odometer readings of the car in FOLDER contradict, and what would fit them."""
    car = read_folder(folder)
    result = read_odometer(odometer_readings(car))
    if as_json:
        print_json(odometer_json(result) | {"set_aside": aside_json(car, "odometer")})
    else:
        click.echo("\n\n".join([*_in_words(result), *aside_words(car, "odometer")]))


def _in_words(result: OdometerResult) -> Iterator[str]:
    yield from _clashes(result)
    yield from _stories(result)
    turn_km, unit = result.turn_km, result.readings[-1].unit
    if turn_km is not None and result.stories:
        more = f"{grouped(turn_km / KM_IN[unit])} {unit}"
        yield f"Each turn of the dial more would add {more}; no reading excludes it."
    if result.stories and not result.stories[0].changes:
        yield from _rates(story_rates(result.stories[0]), unit)
    yield textwrap.fill(f"{FROM_NEW} {BAND}", width=88)


def _clashes(result: OdometerResult) -> Iterator[str]:
    if not result.clashes:
        yield f"The {len(result.readings)} readings agree as they are written."
    for clash in result.clashes:
        named = "\n".join(f"  {reading.name}" for reading in clash.readings)
        yield f"Contradicting: {clash.why}.\n{named}"


def _stories(result: OdometerResult) -> Iterator[str]:
    unit = result.readings[-1].unit
    if not result.stories:
        yield f"More than {MOST_CHANGES} changes would be needed; no distance is told."
        return
    changes_n = max(len(story.changes) for story in result.stories)
    if changes_n:
        yield (
            "What would make them agree, any one of these:"
            if changes_n == 1
            else (
                f"What would make them agree, {changes_n} changes at once, any one line of these:"
            )
        )
    for number, story in enumerate(result.stories, start=1):
        distance = distance_words(story_span(story), unit)
        told = f"{number}. {changes_words(story)}: {distance} in all"
        strange = [r for r in story_rates(story) if r.times is not None and r.times > 2]
        fast = [f"   {_fast(rate, unit)}" for rate in strange if story.changes]
        yield "\n".join([indented(told), *fast])


def _fast(rate: YearlyRate, unit: Unit) -> str:
    figure = grouped(rate.km_a_year / KM_IN[unit])
    return f"   {figure} {unit} a year up to {rate.stretch.second.name}: {rate.words}"


def _rates(rates: tuple[YearlyRate, ...], unit: Unit) -> Iterator[str]:
    if rates:
        rows = ((r.stretch.second.name, grouped(r.km_a_year / KM_IN[unit]), r.words) for r in rates)
        yield table(("up to", f"{unit} a year", f"beside the {SOURCE}"), rows, align="lrl")
