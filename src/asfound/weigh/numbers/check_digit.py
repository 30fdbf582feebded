"""The check digit of a vehicle number of seventeen characters, where one must be there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError

FIRST_YEAR = 1981
"""Vehicles built for North America carry the number and its digit from this model year on."""
NORTH_AMERICA = "North America"
_LENGTH, _PLACE = 17, 8
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_VALUES = {
    **{str(digit): digit for digit in range(10)},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckDigit:
    """What the check digit of a number says, and why."""

    outcome: Literal["agrees", "disagrees", "does not apply"]
    why: str


def check_digit(number: str) -> str:
    """Check digit that a number of seventeen characters asks for; its own ninth is passed over.

    Raises
    ------
    InputError
        If there are not seventeen characters, or one of them stands in no such number.

    Notes
    -----
    Letters have values, places have weights; the sum of products modulo 11 is the digit, X for
    ten. I, O and Q stand in no such number.

    References
    ----------
    49 CFR 565.15(c), tables III to V; ISO 3779 gives the seventeen characters and asks for none.

    Examples
    --------
    >>> check_digit("1G4AH59H?5G118341")
    '4'
    """
    left = product_sum(number) % 11
    return "X" if left == 10 else str(left)


def product_sum(number: str) -> int:
    """Sum of the products of values and weights, from which the digit is taken.

    Raises
    ------
    InputError
        If there are not seventeen characters, or one of them stands in no such number.
    """
    if len(number) != _LENGTH:
        raise InputError(field="number", got=number, allowed="seventeen characters long")
    total = 0
    for place, (sign, weight) in enumerate(zip(number.upper(), _WEIGHTS, strict=True)):
        if place == _PLACE:
            continue
        if sign not in _VALUES:
            raise InputError(
                field="number",
                got=number,
                allowed="digits and letters other than I, O and Q",
                remedy=f"Character {place + 1} is {sign!r}; read it again.",
            )
        total += _VALUES[sign] * weight
    return total


def checked(
    number: str, *, first_year: int | None, last_year: int | None, made_for: str
) -> CheckDigit:
    """Whether the check digit of a number agrees, where there must be one.

    Parameters
    ----------
    number : str
        As read; spaces and framing stars do not count.
    first_year, last_year : int or None
        First and last year in which the car may have been built; ``None`` where open.
    made_for : str
        Market; only "North America" asks for the digit. Empty for not known.

    Notes
    -----
    A car that may have been built before 1981, that was not built for North America, or whose
    number has another length is never failed: the outcome is then "does not apply".
    """
    text = re.sub(r"[\s*\-]+", "", number).upper()
    reason = _spared(text, first_year=first_year, last_year=last_year, made_for=made_for)
    if reason:
        return CheckDigit(outcome="does not apply", why=reason)
    asked = check_digit(text)
    if text[_PLACE] == asked:
        return CheckDigit(outcome="agrees", why=f"character 9 is {asked}, as the others ask")
    return CheckDigit(
        outcome="disagrees",
        why=f"character 9 is read as {text[_PLACE]} where the others ask for {asked}: one of the "
        "seventeen is read or stamped wrong",
    )


def _spared(text: str, *, first_year: int | None, last_year: int | None, made_for: str) -> str:
    """Why the digit is not asked for; empty where it is."""
    if len(text) != _LENGTH:
        return f"the number has {len(text)} characters, not seventeen"
    if first_year is None or first_year < FIRST_YEAR:
        known = last_year is not None and last_year < FIRST_YEAR
        when = "was" if known else "may have been"
        return f"the car {when} built before {FIRST_YEAR}"
    if made_for != NORTH_AMERICA:
        return f"only vehicles made for {NORTH_AMERICA} must have one"
    odd = [(place, sign) for place, sign in enumerate(text, start=1) if sign not in _VALUES]
    if odd:
        place, sign = odd[0]
        return f"character {place} is read as {sign}, which stands in no such number: read it again"
    return ""
