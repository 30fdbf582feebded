"""Rows of events and their links become a history to be read."""

from __future__ import annotations

from asfound.record.convert.edtf_days import edtf_days
from asfound.record.convert.history_faults import history_faults, unreadable
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.weigh.dates import Event, History, Link, at_least, at_most


def history_of(car: CarFolder) -> History:
    """Events of the car with their windows, and the statements that tie them.

    ``not_before`` counts from its first day, ``not_after`` to its last; so ``1958/1963`` as
    ``not_before`` is 1 January 1958.

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
        events=tuple(_event(row) for row in car.sheet("events")),
        links=tuple(_link(row) for row in car.sheet("event_links")),
    )


def _event(row: Row) -> Event:
    before, after = row.text("not_before"), row.text("not_after")
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
