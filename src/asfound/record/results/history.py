"""A history in the shape of the contract, and in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder, Row
from asfound.record.results.evidence import evidence_json
from asfound.weigh.dates import Clash, Dated, HistoryReading, iso_day
from asfound.weigh.evidence import Weighed

MAY_BE_MORE = "The search for clashes was ended by its limits; there may be more than are named."
UNITS = {"day": "days", "month": "months", "year": "years"}


def history_json(
    reading: HistoryReading, weighed: Iterable[Weighed], car: CarFolder
) -> dict[str, Any]:
    """Result as ``asfound history --json`` prints it."""
    return {
        **dates_json(reading, car),
        **evidence_json(weighed, car),
    }


def dates_json(reading: HistoryReading, car: CarFolder) -> dict[str, Any]:
    """The same without what is original."""
    return {
        "consistent": reading.consistent,
        "events": [_event(dated) for dated in reading.events],
        "conflicts": [list(clash.names) for clash in reading.clashes],
        "all_conflicts_found": reading.all_clashes_found,
        "set_aside": [_aside(name, row) for name, row in set_aside(car)],
        "shares": _shares(reading),
        "order": _order(reading),
    }


def set_aside(car: CarFolder) -> tuple[tuple[str, Row], ...]:
    """Statements that somebody doubted or withdrew, by name: windows, then links."""
    named = (("events", "event"), ("event_links", "id"))
    return tuple(
        (row.text(name), row)
        for table, name in named
        for row in car.sheet(table)
        if not counts(row)
    )


def _aside(name: str, row: Row) -> dict[str, str]:
    return {"name": name, "standing": row.text("standing"), "why": row.text("standing_why")}


def clash_words(clash: Clash, car: CarFolder) -> tuple[str, ...]:
    """Statements of a clash, one a line, each with its reason or source."""
    events = {row.text("event"): row for row in car.sheet("events")}
    links = {row.text("id"): row for row in car.sheet("event_links")}
    return (
        *(window_words(events[name]) for name in clash.events),
        *(f"{name}: {link_words(links[name])}" for name in clash.links),
    )


def window_words(row: Row) -> str:
    """Window of an event as it was stated, with its note."""
    event, note = row.text("event"), row.text("note")
    return f"{event}: {said_words(row)}{f'; {note}' if note else ''}"


def said_words(row: Row) -> str:
    """When an event is said to have been, as it was written."""
    before, after = row.text("not_before"), row.text("not_after")
    if before == after:
        return before or "at an unknown time"
    if not before:
        return f"not after {after}"
    return f"not before {before}, not after {after}" if after else f"not before {before}"


def link_words(row: Row) -> str:
    """Statement of a link, with its reason."""
    why = row.text("why")
    return f"{_distance(row)}{f'; {why}' if why else ''}"


def _distance(row: Row) -> str:
    start, end = row.text("from"), row.text("to")
    least, most = row.text("min"), row.text("max")
    if not least and not most:
        return f"{end} and {start} lie any time apart"
    if least and not most:
        if float(least) == 0:
            return f"{end} is not before {start}"
        return f"{end} is at least {_amount(row, least)} after {start}"
    if most and not least:
        return f"{end} is at most {_amount(row, most)} after {start}"
    if float(least) == float(most):
        return f"{end} is {_amount(row, least)} after {start}"
    return f"{end} is {least} to {_amount(row, most)} after {start}"


def _amount(row: Row, amount: str) -> str:
    unit = row.text("unit")
    return f"{amount} {unit if float(amount) == 1 else UNITS[unit]}"


def day_words(day: int | None) -> str:
    """Day as ISO writes it, or that it is open."""
    return "open" if day is None else iso_day(day)


def _event(dated: Dated) -> dict[str, Any]:
    likely = dated.likely
    days = (
        ("earliest", dated.first),
        ("latest", dated.last),
        ("p05", likely.p05 if likely else None),
        ("p50", likely.p50 if likely else None),
        ("p95", likely.p95 if likely else None),
    )
    return {"event": dated.event} | {k: None if d is None else iso_day(d) for k, d in days}


def _shares(reading: HistoryReading) -> dict[str, Any]:
    """How the shares were come by, and how far a drawn day may be off."""
    drawn = [d for d in reading.events if d.likely is not None and d.likely.how == "drawn"]
    return {
        "drawn": [dated.event for dated in drawn],
        "seed": reading.seed,
        "u_days": max((round(d.likely.u_days, 2) for d in drawn if d.likely), default=0.0),
    }


def _order(reading: HistoryReading) -> list[dict[str, Any]]:
    """Groups from the earliest level up, each with those it lies directly over."""
    order = reading.order
    below: dict[int, list[int]] = {}
    for later, earlier in order.over:
        below.setdefault(later, []).append(earlier)
    ranked = sorted(range(len(order.groups)), key=lambda group: (order.level[group], group))
    return [
        {
            "events": list(order.groups[group]),
            "level": order.level[group],
            "over": [name for under in below.get(group, ()) for name in order.groups[under]],
        }
        for group in ranked
    ]
