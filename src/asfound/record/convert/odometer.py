"""Rows of the odometer table become dated readings with names that people know them by."""

from __future__ import annotations

from collections import Counter

from asfound.record.convert.day_window import day_window
from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder, Row
from asfound.weigh.odometer import OdometerReading


def odometer_readings(car: CarFolder) -> tuple[OdometerReading, ...]:
    """Readings of the car that nobody doubts, in the order of the table.

    A reading is named by its date, figure and source; where two are written alike, by their row.
    """
    rows = [row for row in car.sheet("odometer") if counts(row)]
    alike = Counter(map(_name, rows))
    return tuple(_reading(row, alike[_name(row)] > 1) for row in rows)


def _reading(row: Row, alike: bool) -> OdometerReading:
    first, last = day_window(row.text("date"))
    return OdometerReading(
        name=f"{_name(row)}, row {row.number_in_file}" if alike else _name(row),
        first_day=first,
        last_day=last,
        shown=row.number("reading"),
        unit=row.text("unit"),  # type: ignore[arg-type]  # checked on reading
        digits=int(row.number("digits")) if row.text("digits") else None,
        instrument=row.text("instrument"),
    )


def _name(row: Row) -> str:
    figure = f"{row.number('reading'):.10g}"
    return f"{row.text('date')}: {figure} {row.text('unit')} ({row.text('source')})"
