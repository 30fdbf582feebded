"""The trades that a car's tables name."""

from __future__ import annotations

from asfound.record.folder import CarFolder

HOURS = "hours_"
USUAL = ("mechanic", "painter", "trimmer", "electrician")
"""Offered where no table names a trade yet (common practice, no source)."""


def trades_of(car: CarFolder) -> tuple[str, ...]:
    """Trades of the options, the treatment rates and the people; the usual ones without any.

    Examples
    --------
    >>> trades_of(CarFolder())
    ('mechanic', 'painter', 'trimmer', 'electrician')
    """
    columns = [c for name in ("options", "treatment_rates") for c in car.sheet(name).columns]
    named = [column.removeprefix(HOURS) for column in columns if column.startswith(HOURS)]
    for row in car.sheet("people"):
        named += [trade.strip() for trade in row.text("trades").split(";") if trade.strip()]
    return tuple(dict.fromkeys(named)) or USUAL
