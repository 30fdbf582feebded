"""How the plan of the shop takes a car: its priority, and the day told to the owner."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from asfound.plan.working_time import DAY_MIN
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.weekdays import last_day
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Sheet

TABLE = "in_shop"


@dataclass(frozen=True, slots=True, kw_only=True)
class InShop:
    """A car's place in the shop.

    Parameters
    ----------
    priority : float
        Weight of its finish against the others', above zero.
    promised : date or None
        Day told to the owner.
    at_work : bool
        Whether it is planned with the others.
    """

    priority: float = 1.0
    promised: date | None = None
    at_work: bool = True


def in_shop(car: CarFolder) -> InShop:
    """Place that ``in_shop.csv`` tells; the usual one without it.

    Raises
    ------
    InputFaultsError
        If what is promised names no last day.
    """
    for row in car.sheet(TABLE):
        told = row.text("promised")
        if told and last_day(told) is None:
            raise InputFaultsError(
                (
                    cell_fault(
                        f"{TABLE}.csv",
                        row,
                        "promised",
                        "a promise without a last day promises nothing",
                        "Give the day that was told to the owner, such as 2026-05-29.",
                    ),
                )
            )
        return InShop(
            priority=row.number("priority", default=1.0),
            promised=last_day(told),
            at_work=row.flag("at_work", default=True),
        )
    return InShop()


def in_shop_sheet(place: InShop, kept: Sheet) -> Sheet:
    """The same as a table.

    Parameters
    ----------
    place : InShop
    kept : Sheet
        As it was written once: its other columns stay, and cells that still mean the same.
    """
    cells = dict(next(iter(kept)).cells) if len(kept) else {}
    was = in_shop(CarFolder(sheets={TABLE: kept}))
    if place.priority != was.priority or (place != was and "priority" not in cells):
        cells["priority"] = f"{place.priority:g}"
    if place.promised != was.promised:
        cells["promised"] = place.promised.isoformat() if place.promised else ""
    if place.at_work != was.at_work:
        cells["at_work"] = "yes" if place.at_work else "no"
    return Sheet(columns=tuple(cells), rows=(tuple(cells.values()),)) if cells else kept


def promised_min(promised: Mapping[str, date], first: date) -> dict[str, int]:
    """End of the day for which each car is promised [min from the plan's first midnight]."""
    return {car: ((day - first).days + 1) * DAY_MIN for car, day in promised.items()}


def past_promises(cars: Mapping[str, CarFolder], first: date) -> Iterator[Fault]:
    """Promised days before the plan's first: each is late already, and every day more is counted.

    Parameters
    ----------
    cars : mapping of str to CarFolder
        By the name to tell before the file; empty for one car alone.
    first : date
    """
    for car, folder in cars.items():
        promised = in_shop(folder).promised
        if promised is not None and promised < first:
            file = f"{car}/{TABLE}.csv" if car else f"{TABLE}.csv"
            yield cell_fault(
                file,
                next(iter(folder.sheet(TABLE))),
                "promised",
                f"the car is promised before {first}, the first day of the plan",
                "Agree on a new day with the owner, or let the plan begin earlier.",
            )
