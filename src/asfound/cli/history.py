"""``asfound history``: when things happened, what clashes, and what is original."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

import click

from asfound.base import NotEnoughEvidenceError
from asfound.cli.app import command, say
from asfound.cli.show import (
    folder_argument,
    indented,
    json_option,
    print_json,
    seed_option,
    table,
)
from asfound.exchange import read_folder
from asfound.record.derived import history_reading, weighed_evidence
from asfound.record.folder import CarFolder
from asfound.record.results.history import (
    MAY_BE_MORE,
    clash_words,
    day_words,
    history_json,
    said_words,
    set_aside,
)
from asfound.weigh import SCALE
from asfound.weigh.dates import Dated, HistoryReading
from asfound.weigh.evidence import Weighed

NOTHING = (
    "No event and no evidence is written down; write events.csv with event, not_before and "
    "not_after, or evidence.csv."
)
COUNTED = (
    "Likely days give every consistent history the same weight. They are never better than the "
    "statements that go in."
)


@command()
@folder_argument
@json_option
@seed_option
def history(folder: Path, as_json: bool, seed: int) -> None:
    """Date what happened to the car in FOLDER, name what clashes, and weigh what is original."""
    car = read_folder(folder)
    reading, weighed = history_reading(car, seed=seed), weighed_evidence(car)
    if not reading.events and not weighed:
        raise NotEnoughEvidenceError(NOTHING)
    if not reading.all_clashes_found:
        say(MAY_BE_MORE)
    if as_json:
        print_json(history_json(reading, weighed, car))
    else:
        click.echo("\n\n".join(_in_words(car, reading, weighed)))


def _in_words(
    car: CarFolder, reading: HistoryReading, weighed: tuple[Weighed, ...]
) -> Iterator[str]:
    if reading.events:
        yield from _dates_in_words(car, reading)
    if weighed:
        yield table(
            ("subject", "statement", "against", "LR", "weight"),
            map(_claim_row, weighed),
            align="lllrl",
        )
        yield f"The words are those of the {SCALE}."


def _dates_in_words(car: CarFolder, reading: HistoryReading) -> Iterator[str]:
    said = {row.text("event"): said_words(row) for row in car.sheet("events")}
    yield table(
        ("event", "first day", "likely", "last day"),
        (_dated_row(dated, said[dated.event]) for dated in reading.events),
        align="llll",
    )
    if reading.clashes:
        yield from _clashes_in_words(car, reading)
    else:
        yield "All that is said can hold together."
    aside = [
        f"{name} ({row.text('standing')}: {row.text('standing_why')})"
        for name, row in set_aside(car)
    ]
    if aside:
        yield "\n".join(["Not counted:", *map(indented, aside)])
    drawn = [d.likely.u_days for d in reading.events if d.likely and d.likely.how == "drawn"]
    if drawn:
        yield (
            f"{len(drawn)} of the likely days were drawn at random (seed {reading.seed}); their "
            f"standard error is {max(drawn):.0f} days at most."
        )
    yield textwrap.fill(COUNTED, width=88)


def _clashes_in_words(car: CarFolder, reading: HistoryReading) -> Iterator[str]:
    count = len(reading.clashes)
    yield "One clash:" if count == 1 else f"{count} clashes:"
    for number, clash in enumerate(reading.clashes, start=1):
        head = f"{number}. These cannot all hold; any one of them left out, the others can:"
        yield "\n".join([head, *map(indented, clash_words(clash, car))])


def _dated_row(dated: Dated, said: str) -> tuple[str, str, str, str]:
    if not dated.holds:
        return dated.event, "clash", f"said: {said}", "clash"
    likely = dated.likely
    middle = "–" if likely is None else day_words(likely.p50)
    if likely is not None and likely.p05 != likely.p95:
        middle += f" ({day_words(likely.p05)} to {day_words(likely.p95)})"
    return dated.event, day_words(dated.first), middle, day_words(dated.last)


def _claim_row(weighed: Weighed) -> tuple[str, ...]:
    claim = weighed.claim
    return claim.subject, claim.statement, claim.alternative, f"{weighed.lr:.3g}", weighed.words
