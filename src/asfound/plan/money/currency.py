"""Currencies of ISO 4217 and their minor units; rounding of amounts."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from asfound.base import InputError

_TWO = """
AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF
CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD
HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK
MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD
RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS
UAH USD UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG
"""
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"
_DIGITS = {
    code: digits for codes, digits in ((_TWO, 2), (_NONE, 0), (_THREE, 3)) for code in codes.split()
}


def minor_digits(currency: str) -> int:
    """Decimal places of a currency's minor unit.

    Parameters
    ----------
    currency : str
        Code of three letters.

    Raises
    ------
    InputError
        If it is no currency in use.

    Notes
    -----
    Codes and minor units of ISO 4217:2015, list one, without funds, metals and test codes. From
    memory; units of account with four digits are left out.

    Examples
    --------
    >>> minor_digits("EUR"), minor_digits("JPY"), minor_digits("KWD")
    (2, 0, 3)
    """
    check_currency(currency)
    return _DIGITS[currency]


def check_currency(currency: str) -> None:
    """Raise where a code is not that of a currency in use.

    Raises
    ------
    InputError
        With the code.
    """
    if currency not in _DIGITS:
        raise InputError(
            field="currency",
            got=currency,
            allowed="the code of a currency as ISO 4217 has it",
            remedy="Write for example EUR, GBP, CHF or JPY in car.csv.",
        )


def rounded(amount: Decimal, *, digits: int) -> Decimal:
    """Amount in whole minor units; a half goes away from zero.

    Examples
    --------
    >>> rounded(Decimal("0.125"), digits=2), rounded(Decimal("-0.125"), digits=2)
    (Decimal('0.13'), Decimal('-0.13'))
    """
    return amount.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)
