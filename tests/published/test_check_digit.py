"""The check digit of a vehicle number against published numbers."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.weigh.numbers import check_digit, checked, product_sum

NUMBERS = [
    pytest.param(
        "1G4AH59H45G118341",
        411,
        marks=pytest.mark.source("49 CFR 565, sample of table V (text copy looked up)"),
    ),
    pytest.param(
        "1J9RP1A36A1644345",
        314,
        marks=pytest.mark.source("NHTSA outline for new manufacturers (copy looked up)"),
    ),
    pytest.param(
        "1M8GDM9AXKP042788", 351, marks=pytest.mark.source("worked example, widely reprinted")
    ),
    pytest.param(
        "JH2RC3605MM101581",
        280,
        marks=pytest.mark.source("Canadian text's reprint of the method of 49 CFR 565"),
    ),
    pytest.param(
        "11111111111111111", 89, marks=pytest.mark.source("straight ones, the usual self-test")
    ),
]


@pytest.mark.parametrize(("number", "products"), NUMBERS)
def test_published_numbers(number: str, products: int) -> None:
    assert product_sum(number) == products
    assert check_digit(number) == number[8]


@pytest.mark.source("49 CFR 565.15(c): weights, of which all but the ninth are prime to 11")
@pytest.mark.parametrize("place", [p for p in range(17) if p != 8])
def test_one_digit_read_wrong_is_found(place: int) -> None:
    number = "1M8GDM9AXKP042788"
    if number[place].isdecimal():
        wrong = number[:place] + str((int(number[place]) + 1) % 10) + number[place + 1 :]
        found = checked(wrong, first_year=1989, last_year=1989, made_for="North America")
        assert found.outcome == "disagrees"


WRONG = "1M8GDM9A1KP042788"


@pytest.mark.source("49 CFR 565: vehicles for North America of model year 1981 and later")
@pytest.mark.parametrize(
    ("number", "first", "last", "made_for", "outcome"),
    [
        (WRONG, 1989, 1989, "North America", "disagrees"),
        ("1M8GD M9AX KP042788", 1989, 1989, "North America", "agrees"),
        (WRONG, 1980, 1980, "North America", "does not apply"),
        (WRONG, 1980, 1982, "North America", "does not apply"),
        (WRONG, None, None, "North America", "does not apply"),
        (WRONG, 1989, 1989, "elsewhere", "does not apply"),
        (WRONG, 1989, 1989, "", "does not apply"),
        ("M 1607", 1989, 1989, "North America", "does not apply"),
        ("1M8GDM9AXKP04Z7O8", 1989, 1989, "North America", "does not apply"),
    ],
)
def test_where_it_does_not_apply_no_car_is_failed(
    number: str, first: int | None, last: int | None, made_for: str, outcome: str
) -> None:
    found = checked(number, first_year=first, last_year=last, made_for=made_for)
    assert found.outcome == outcome
    assert found.why


@pytest.mark.source("ISO 3779: I, O and Q stand in no vehicle identification number")
@pytest.mark.parametrize("letter", "IOQ")
def test_letters_that_stand_in_no_number(letter: str) -> None:
    with pytest.raises(InputError, match="I, O and Q"):
        check_digit(f"1M8GDM9AXKP04278{letter}")
