"""Minor units, rounding of tax, and the totals of a document against published rules."""

from __future__ import annotations

from decimal import Decimal

import pytest

from asfound.base import InputError
from asfound.plan.money import TaxedAmount, amount_due, minor_digits, rounded, tax_totals


def taxed(*pairs: tuple[str, str]) -> list[TaxedAmount]:
    return [TaxedAmount(net=Decimal(net), percent=Decimal(percent)) for net, percent in pairs]


@pytest.mark.source("ISO 4217:2015, list one: minor units")
@pytest.mark.from_memory
@pytest.mark.parametrize(
    ("digits", "codes"),
    [
        (0, "CLP ISK JPY KRW PYG UGX VND XAF XOF XPF"),
        (2, "AUD CAD CHF CZK DKK EUR GBP NOK NZD PLN SEK USD ZAR"),
        (3, "BHD IQD JOD KWD LYD OMR TND"),
    ],
)
def test_minor_units(digits: int, codes: str) -> None:
    assert {minor_digits(code) for code in codes.split()} == {digits}


@pytest.mark.parametrize("code", ["", "DEM", "eur", "EURO", "XXX"])
def test_what_is_no_currency_in_use_is_refused(code: str) -> None:
    with pytest.raises(InputError, match="ISO 4217"):
        minor_digits(code)


@pytest.mark.source("HMRC VAT Notice 700, section 17.5: 86.76p becomes 86.8p, or 87p")
@pytest.mark.from_memory
@pytest.mark.parametrize(("digits", "told"), [(3, "0.868"), (2, "0.87")])
def test_tax_of_a_line_is_rounded_to_the_nearest(digits: int, told: str) -> None:
    assert rounded(Decimal("0.8676"), digits=digits) == Decimal(told)


@pytest.mark.source("HMRC VAT Notice 700, section 17.5: 86.34p is rounded down to 86.3p")
@pytest.mark.from_memory
def test_tax_of_a_line_below_the_half_is_rounded_down() -> None:
    assert rounded(Decimal("0.8634"), digits=3) == Decimal("0.863")


@pytest.mark.source(
    "Peppol BIS Billing 3.0, example base-example: lines 2800 and -1500, charge 25, 25 %; "
    "without tax 1325, tax 331.25, with tax and due 1656.25 (EN 16931-1, BR-CO-10 to BR-CO-17)"
)
@pytest.mark.from_memory
def test_totals_of_a_published_invoice() -> None:
    totals = tax_totals(taxed(("2800", "25"), ("-1500", "25"), ("25", "25")), digits=2)
    assert (totals.net, totals.tax, totals.gross) == (
        Decimal("1325"),
        Decimal("331.25"),
        Decimal("1656.25"),
    )
    assert amount_due(totals, paid=Decimal(0)) == Decimal("1656.25")


@pytest.mark.source("EN 16931-1, BR-CO-14 and BR-CO-17: tax is rounded by rate, not by line")
@pytest.mark.from_memory
def test_tax_is_rounded_once_a_rate() -> None:
    # Three lines of 0.10 at 21 %: 0.021 each, which is 0.02 a line and 0.06 together; the sum of
    # 0.30 bears 0.063, which is 0.06. Five such lines tell the two rules apart: 0.10 and 0.11.
    totals = tax_totals(taxed(*[("0.10", "21")] * 5), digits=2)
    assert totals.tax == Decimal("0.11")


@pytest.mark.source("EN 16931-1, BR-CO-14: total tax is the sum of the tax by rate")
@pytest.mark.from_memory
def test_each_rate_has_its_own_sum() -> None:
    totals = tax_totals(taxed(("100", "20"), ("50", "5"), ("100", "20"), ("9", "0")), digits=2)
    told = [(rate.percent, rate.net, rate.tax) for rate in totals.rates]
    assert told == [(20, 200, 40), (5, 50, Decimal("2.5")), (0, 9, 0)]
    assert totals.gross == Decimal("301.50")


@pytest.mark.source("ISO 4217: the yen has no minor unit, the Kuwaiti dinar three digits")
@pytest.mark.from_memory
@pytest.mark.parametrize(("currency", "tax"), [("JPY", "101"), ("EUR", "100.50"), ("KWD", "100.5")])
def test_tax_comes_in_whole_minor_units(currency: str, tax: str) -> None:
    totals = tax_totals(taxed(("1005", "10")), digits=minor_digits(currency))
    assert totals.tax == Decimal(tax)
    assert -totals.tax.as_tuple().exponent == minor_digits(currency)  # type: ignore[operator]
