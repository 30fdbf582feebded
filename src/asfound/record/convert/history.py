"""Rows of events and their links become a history to be read."""

from __future__ import annotations

from collections.abc import Collection

from asfound.record.convert.edtf_days import edtf_days
from asfound.record.convert.history_faults import history_faults, unreadable
from asfound.record.convert.standing import counts
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.weigh.dates import Event, History, Link, at_least, at_most

Statement = tuple[str, str]
"""``event`` for the window of an event or ``link``, and its name."""


def history_of(car: CarFolder, *, without: Collection[Statement] = ()) -> History:
    """Events of the car with their windows, and the statements that tie them.

    ``not_before`` counts from its first day, ``not_after`` to its last; so ``1958/1963`` as
    ``not_before`` is 1 January 1958. A window or a link that is doubted or withdrawn is left
    out, and so is what is named in ``without``; an event stays, open on both sides.

    Raises
    ------
    InputFaultsError
        If a date cannot be read, a window is empty, a link ties an event to itself or to one
        that is not there, or its least distance is more than its greatest.
    """
    faults = (*unreadable(car.sheets), *history_faults(car.sheets))
    if faults:
        raise InputFaultsError(faults)
    return History(
        events=tuple(
            _event(row, counts=counts(row) and ("event", row.text("event")) not in without)
            for row in car.sheet("events")
        ),
        links=tuple(
            _link(row)
            for row in car.sheet("event_links")
            if counts(row) and ("link", row.text("id")) not in without
        ),
    )


def _event(row: Row, *, counts: bool) -> Event:
    before, after = (row.text(name) if counts else "" for name in ("not_before", "not_after"))
    return Event(
        event=row.text("event"),
        first=edtf_days(before)[0] if before else None,
        last=edtf_days(after)[1] if after else None,
    )


def _link(row: Row) -> Link:
    unit = row.text("unit")
    return Link(
        link=row.text("id"),
        start=row.text("from"),
        end=row.text("to"),
        least=at_least(row.number("min"), unit=unit) if row.text("min") else None,  # type: ignore[arg-type]  # checked on reading
        most=at_most(row.number("max"), unit=unit) if row.text("max") else None,  # type: ignore[arg-type]  # checked on reading
    )
