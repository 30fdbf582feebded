"""Rates by day: what an hour is charged at, what tax holds, what a material costs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from asfound.record.convert.errands import days_of
from asfound.record.folder import CarFolder, Row

_FIRST = date.min


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Rows of ``charge_rates``, ``tax_rates`` and ``material_prices``."""

    charge: tuple[Row, ...] = ()
    tax: tuple[Row, ...] = ()
    materials: tuple[Row, ...] = ()

    def hour(self, *, trade: str, person: str = "", day: date) -> Decimal | None:
        """What an hour is charged at that day: the person's own rate, else the trade's."""
        for name in dict.fromkeys((person, "")):
            found = _latest(
                (r for r in self.charge if (r.text("trade"), r.text("person")) == (trade, name)),
                day,
            )
            if found is not None:
                return Decimal(found.text("rate"))
        return None

    def charged_percent(self, day: date) -> Decimal:
        """Rate of tax that the workshop charges that day; 0 where no rate is marked so."""
        found = _latest((row for row in self.tax if row.text("charged") == "yes"), day)
        return Decimal(0) if found is None else Decimal(found.text("percent"))

    def knows_percent(self, percent: Decimal, day: date) -> bool:
        """Whether a rate of that many per cent holds that day; no tax is always known."""
        return percent == 0 or any(
            Decimal(row.text("percent")) == percent and holds(row, day) for row in self.tax
        )

    def price(self, *, material: str, unit: str) -> Decimal | None:
        """What one unit of a material is charged at."""
        for row in self.materials:
            if (row.text("material"), row.text("unit")) == (material, unit):
                return Decimal(row.text("price"))
        return None


def rates_of(car: CarFolder) -> Rates:
    """Rates of a car."""
    return Rates(
        charge=tuple(car.sheet("charge_rates")),
        tax=tuple(car.sheet("tax_rates")),
        materials=tuple(car.sheet("material_prices")),
    )


def holds(row: Row, day: date) -> bool:
    """Whether the day lies within a row's ``from_on`` and ``until_on``."""
    last = days_of(row.text("until_on"))[1] if row.text("until_on") else None
    return _from(row) <= day and (last is None or day <= last)


def _latest(rows: Iterable[Row], day: date) -> Row | None:
    return max((row for row in rows if holds(row, day)), key=_from, default=None)


def _from(row: Row) -> date:
    return days_of(row.text("from_on"))[0] or _FIRST
