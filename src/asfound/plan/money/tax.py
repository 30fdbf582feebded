"""Tax of a document or of an account: by rate, on the sum, rounded once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from asfound.plan.money.currency import rounded


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxedAmount:
    """An amount without tax, and the rate that it bears [%]."""

    net: Decimal
    percent: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxOfRate:
    """What all amounts of one rate come to, and the tax on them."""

    percent: Decimal
    net: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Sums without and with tax, and the tax by rate, the highest rate first."""

    net: Decimal
    tax: Decimal
    gross: Decimal
    rates: tuple[TaxOfRate, ...]


def tax_totals(amounts: Iterable[TaxedAmount], *, digits: int) -> Totals:
    """Totals of amounts under their rates.

    Parameters
    ----------
    amounts : iterable of TaxedAmount
    digits : int
        Decimal places of the currency's minor unit.

    Notes
    -----
    Tax is taken on the sum of all amounts of one rate and rounded once, half away from zero:
    rules BR-CO-10 (sum of the lines), BR-CO-14 (tax is the sum over the rates), BR-CO-15 (with
    tax is without plus tax) and BR-CO-17 (tax of a rate is its taxable amount times the rate,
    rounded to two decimals) of EN 16931-1. From memory. Departure: rounding is to the minor unit
    of the currency, which has two decimals for most.

    Examples
    --------
    >>> lines = [TaxedAmount(net=Decimal("1325"), percent=Decimal(25))]
    >>> tax_totals(lines, digits=2).gross
    Decimal('1656.25')
    """
    by_rate: dict[Decimal, Decimal] = {}
    for one in amounts:
        by_rate[one.percent] = by_rate.get(one.percent, Decimal(0)) + rounded(
            one.net, digits=digits
        )
    rates = tuple(
        TaxOfRate(percent=p, net=net, tax=rounded(net * p / 100, digits=digits))
        for p, net in sorted(by_rate.items(), reverse=True)
    )
    net = sum((one.net for one in rates), rounded(Decimal(0), digits=digits))
    tax = sum((one.tax for one in rates), rounded(Decimal(0), digits=digits))
    return Totals(net=net, tax=tax, gross=net + tax, rates=rates)


def amount_due(totals: Totals, *, paid: Decimal) -> Decimal:
    """What is still to pay: with tax, less what was paid (BR-CO-16 of EN 16931-1, from memory)."""
    return totals.gross - paid
