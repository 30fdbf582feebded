"""Dated events of a part or a panel as items of evidence."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.record.convert.day_window import day_window
from asfound.record.convert.number_weights import Weights
from asfound.record.evidence.finish import CAUSE as FINISH_CAUSE
from asfound.record.evidence.marks import DATES
from asfound.record.evidence.statements import FINISH, FITTED
from asfound.record.folder import CarFolder, Row
from asfound.weigh.dates import Dated, HistoryReading, iso_day
from asfound.weigh.evidence import Claim, Item

_OF_PART = frozenset({"made", "fitted"})
_OF_PANEL = "repainted"


def tells_kinds(car: CarFolder) -> bool:
    """Whether an event says that something was made, fitted or repainted."""
    return any(_speaks(row) for row in car.sheet("events"))


def event_claims(
    car: CarFolder, history: HistoryReading | None, *, weights: Weights
) -> Iterator[Claim]:
    """A claim for each part made or fitted, or panel repainted, after the car was built.

    Notes
    -----
    The days are those that the whole history allows; an event that clashes says nothing until
    the clash is mended. A repainted panel shares its cause with film and colour, from which such
    an event is often read.
    """
    dated = {d.event: d for d in history.events} if history else {}
    built = next((day_window(row.text("built"))[1] for row in car.sheet("car")), None)
    lr = weights["conflict", "dates only"]
    for row in car.sheet("events"):
        when = dated.get(row.text("event"))
        if built is None or when is None or not _speaks(row) or not _after(when, built):
            continue
        if row.text("kind") == _OF_PANEL:
            yield FINISH.about(row.text("subject"), _item(row, when, lr, FINISH_CAUSE))
        else:
            yield FITTED.about(row.text("subject"), _item(row, when, lr, DATES))


def _speaks(row: Row) -> bool:
    return bool(row.text("subject")) and row.text("kind") in (*_OF_PART, _OF_PANEL)


def _after(when: Dated, built: int) -> bool:
    return when.holds and when.first is not None and when.first > built


def _item(row: Row, when: Dated, lr: float, cause: str) -> Item:
    assert when.first is not None, "only such events come here"
    return Item(
        item=f"{row.text('event')}: not before {iso_day(when.first)}, after the car was built",
        lr=lr,
        basis="guess",
        cause=cause,
        note=row.text("note"),
        derived_from=("events",),
        derived_row=row.text("event"),
    )
