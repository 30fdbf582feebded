"""Rows of wear become measured wear, the rates it is held against, and the exposure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from asfound.base import AsfoundError, Estimate
from asfound.record.convert.decimal_years import decimal_year
from asfound.record.convert.odometer import odometer_readings
from asfound.record.convert.standing import counts, standing_faults
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.weigh.odometer import read_odometer
from asfound.weigh.wear import WearRate

FILE = "wear.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartWear:
    """Wear of a part, and what the car went through: years, or 1000 km.

    ``exposure`` is ``None`` where the car's age, or its distance, is not known.
    """

    part: str
    item: str
    wear_mm: Estimate
    rate: WearRate
    per: str
    exposure: float | None
    row: Row


def wears_of(car: CarFolder) -> tuple[PartWear, ...]:
    """Wear that was measured and nobody doubts, in the order of the table.

    Raises
    ------
    InputFaultsError
        If the rates of a row are no range, or it does not count and does not say why.
    """
    rows = list(car.sheet("wear"))
    faults = tuple(wear_faults(rows))
    if faults:
        raise InputFaultsError(faults)
    distance = _thousand_km(car) if rows else None
    return tuple(_wear(row, car, distance) for row in rows if counts(row))


def wear_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    """Rows whose least rate is not below the most, or that do not count without a reason."""
    for row in rows:
        yield from standing_faults([row], file=FILE)
        try:
            least, most = float(row.text("least_mm")), float(row.text("most_mm"))
        except ValueError:
            continue  # told where the table is read
        if least >= most:
            yield Fault(
                file=FILE,
                row=row.number_in_file,
                column="least_mm",
                value=row.text("least_mm"),
                rule=f"it must be below most_mm, {row.text('most_mm')}",
                remedy="Give a range of rates: no part wears at one rate alone.",
            )


def _wear(row: Row, car: CarFolder, distance: float | None) -> PartWear:
    return PartWear(
        part=row.text("part"),
        item=row.text("item"),
        wear_mm=Estimate(value=row.number("wear_mm"), u=row.number("u_mm")),
        rate=WearRate(least=row.number("least_mm"), most=row.number("most_mm")),
        per=row.text("per"),
        exposure=_age(row, car) if row.text("per") == "year" else distance,
        row=row,
    )


def _age(row: Row, car: CarFolder) -> float | None:
    """Years from the middle of the time of building to the day of the reading."""
    built = next((decimal_year(r.text("built")) for r in car.sheet("car")), None)
    read = decimal_year(row.text("taken_at"))
    return None if built is None or read is None or read <= built else read - built


def _thousand_km(car: CarFolder) -> float | None:
    """Distance of the car, where the odometer tells one alone."""
    try:
        (only,) = read_odometer(odometer_readings(car)).distances
    except (AsfoundError, ValueError):
        return None
    return only.to_km / 1000 if only.to_km == only.from_km and only.to_km else None
