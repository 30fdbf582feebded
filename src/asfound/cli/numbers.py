"""``asfound numbers``: the marks of the car beside what they are expected to be."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

import click

from asfound.base import NotEnoughEvidenceError
from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.record.convert.numbers import CarMark, classes_of, marks_of
from asfound.record.results.aside import aside_json, aside_words
from asfound.record.results.numbers import LIMIT, numbers_json
from asfound.weigh.numbers import PreservationClass


@command()
@folder_argument
@json_option
def numbers(folder: Path, as_json: bool) -> None:
    """Hold every mark of the car in FOLDER to its record, and its dates to their order."""
    car = read_folder(folder)
    marks, classes = marks_of(car), classes_of(car)
    if not marks and not classes:
        raise NotEnoughEvidenceError(
            "No mark was read; write identifiers.csv with kind, text_as_read, method and where."
        )
    if as_json:
        aside = {"set_aside": aside_json(car, "identifiers")}
        print_json(numbers_json(marks, classes) | aside)
    else:
        told = [*_in_words(marks, classes), *aside_words(car, "identifiers")]
        click.echo("\n\n".join(told))


def _in_words(marks: tuple[CarMark, ...], classes: tuple[PreservationClass, ...]) -> Iterator[str]:
    yield table(("kind", "where", "read", "verdict"), map(_row, marks), align="llll")
    for mark in marks:
        told = [check.why for check in mark.judged.checks if check.verdict != "same"]
        if mark.judged.verdict in ("conflict", "consistent"):
            named = f"{mark.judged.reading.kind}, {mark.judged.reading.where}:"
            yield "\n".join([named, *map(indented, told)])
    if classes:
        yield "\n".join(one.words for one in classes)
    yield textwrap.fill(LIMIT, width=88)


def _row(mark: CarMark) -> tuple[str, ...]:
    reading = mark.judged.reading
    return reading.kind, reading.where, mark.row.text("text_as_read"), mark.judged.words
