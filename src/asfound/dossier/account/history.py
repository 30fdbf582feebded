"""When things happened: windows, clashes left open, what does not count, the order."""

from __future__ import annotations

from typing import Any

from asfound.dossier.figures import Strata, strata, timeline_parts, timeline_svg
from asfound.dossier.numbers import MISSING
from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder, Row
from asfound.record.results.history import (
    clash_words,
    day_words,
    link_words,
    said_words,
    set_aside,
    window_words,
)
from asfound.weigh.dates import Dated, HistoryReading


def about_history(car: CarFolder, reading: HistoryReading) -> dict[str, Any]:
    """Events as stated apart from what they leave together; every clash in words."""
    events = {row.text("event"): row for row in car.sheet("events")}
    drawn = [d.likely.u_days for d in reading.events if d.likely and d.likely.how == "drawn"]
    return {
        "said": [
            [name, said_words(row), row.text("note") or MISSING] for name, row in events.items()
        ],
        "links": [
            [row.text("id"), link_words(row)] for row in car.sheet("event_links") if counts(row)
        ],
        "dated": [_dated(dated) for dated in reading.events],
        "clashes": [list(clash_words(clash, car)) for clash in reading.clashes],
        "may_be_more": not reading.all_clashes_found,
        "aside": [_aside(name, row) for name, row in set_aside(car)],
        "drawn_n": len(drawn),
        "u_days": f"{max(drawn, default=0.0):.0f}",
        "seed": reading.seed,
        "timelines_n": len(timeline_parts(reading)),
        "strata": [{"title": one.title, "width": one.width} for one in _strata(reading)],
    }


def history_figures(car: CarFolder, reading: HistoryReading) -> dict[str, str]:
    """Timeline and the pieces of the order, by the name of the file."""
    figures = {
        f"timeline-{part}.svg": timeline_svg(car, reading, part=part, theme="print")
        for part in range(len(timeline_parts(reading)))
    }
    pieces = enumerate(_strata(reading))
    return figures | {f"strata-{number}.svg": piece.svg for number, piece in pieces}


def _aside(name: str, row: Row) -> list[str]:
    says = window_words(row) if "event" in row.cells else link_words(row)
    return [name, says, f"{row.text('standing')}: {row.text('standing_why')}"]


def _strata(reading: HistoryReading) -> tuple[Strata, ...]:
    clashing = frozenset(dated.event for dated in reading.events if not dated.holds)
    drawn = strata(reading.order, clashing=clashing, theme="print")
    return tuple(piece for piece in drawn if piece.svg)


def _dated(dated: Dated) -> list[str]:
    if not dated.holds:
        return [dated.event, "clash", MISSING, "clash"]
    likely = dated.likely
    middle = MISSING
    if likely is not None:
        middle = day_words(likely.p50)
        if likely.p05 != likely.p95:
            middle += f" ({day_words(likely.p05)} to {day_words(likely.p95)})"
    return [dated.event, day_words(dated.first), middle, day_words(dated.last)]
