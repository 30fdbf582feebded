"""A mark held to its source, to dates and to other readings of it."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.weigh.dates.days import day_number
from asfound.weigh.numbers import (
    PreservationClass,
    Reading,
    StageDate,
    broken_orders,
    compare,
    judge,
)


def year(stage: str, first: int, last: int | None = None) -> StageDate:
    return StageDate(
        stage=stage,
        text=f"{first}",
        first_day=day_number(year=first),
        last_day=day_number(year=(last or first) + 1) - 1,
    )


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("read", "expected", "verdict"),
    [
        ("M 1607", "M 1607", "same"),
        ("*m1607*", "M-1607", "same"),
        ("M 16O7", "M 1607", "consistent"),
        ("M I6O7", "M 1607", "consistent"),
        ("M 16?7", "M 1607", "consistent"),
        ("44 FENNEL", "44", "consistent"),
        ("1607", "M 1607", "consistent"),
        ("M 1667", "M 1607", "conflict"),
        ("M 1067", "M 1607", "conflict"),
        ("M 160", "M 1607", "conflict"),
        ("7", "M 1607", "conflict"),
        ("????", "1607", "not found"),
        ("", "1607", "not found"),
        ("1607", "", "not found"),
    ],
)
def test_characters(read: str, expected: str, verdict: str) -> None:
    assert compare(read=read, expected=expected).verdict == verdict


def test_digits_changed_about_are_said_and_not_excused() -> None:
    found = compare(read="M 1067", expected="M 1607")
    assert found.why.endswith("the same two characters changed about")
    assert "changed about" not in compare(read="M 1667", expected="M 1607").why


def test_an_ambiguous_and_a_wrong_character_conflict() -> None:
    found = compare(read="M 26O7", expected="M 1607")
    assert (found.verdict, found.why) == ("conflict", "2 is read where 1 is expected")


@pytest.mark.common_practice
def test_casting_machining_assembly_build() -> None:
    in_order = [year("build", 1957), year("casting", 1957), year("assembly", 1956, 1957)]
    assert broken_orders(in_order) == ()
    late = broken_orders([year("machining", 1959), year("build", 1957), year("casting", 1956)])
    assert [pair.words for pair in late] == ["machining 1959 lies after build 1957"]


def test_an_open_date_breaks_no_order() -> None:
    cast = StageDate(stage="casting", text="../1960", first_day=None, last_day=1)
    assert broken_orders([cast, year("build", 1950)]) == ()


def test_a_verdict_always_says_to_what() -> None:
    mark = Reading(kind="engine", where="pad", text="M1", expected="M1", record="maker's record")
    assert judge(mark).words == "same as the maker's record"
    dated = Reading(
        kind="axle", where="tube", text="R1", dates=(year("casting", 1956), year("build", 1957))
    )
    assert judge(dated).words == "consistent with dates only"
    bare = Reading(kind="axle", where="tube", text="R1", dates=(year("build", 1957),))
    assert judge(bare).words == "not found"


def test_dates_in_conflict_come_before_the_same_characters() -> None:
    mark = judge(
        Reading(
            kind="engine",
            where="pad",
            text="M1",
            expected="M1",
            record="maker's record",
            dates=(year("casting", 1960), year("build", 1957)),
        )
    )
    assert mark.words == "conflict with dates only"
    assert [check.verdict for check in mark.checks] == ["conflict", "same"]


def test_two_readings_that_may_be_one_leave_no_more_than_consistent() -> None:
    first = Reading(kind="engine", where="pad", text="M 1607", expected="M 1607")
    again = Reading(kind="engine", where="pad", text="M 16O7", expected="M 1607")
    assert judge(first).verdict == "same"
    assert judge(first, others=(again,)).verdict == "consistent"
    other = Reading(kind="engine", where="pad", text="M 1687", expected="M 1607")
    found = judge(first, others=(other,))
    assert found.words == "conflict with other readings of it"
    assert "read it again" in found.checks[0].why


def test_a_check_digit_that_disagrees_is_a_conflict_only_where_it_must_agree() -> None:
    mark = Reading(kind="chassis", where="plate", text="1M8GDM9A1KP042788")
    late = judge(mark, first_year=1989, last_year=1989, made_for="North America")
    assert late.words == "conflict with its check digit"
    assert judge(mark, first_year=1957, last_year=1957, made_for="North America").words == (
        "not found"
    )


def test_a_class_is_nothing_without_the_edition_of_its_code() -> None:
    one = PreservationClass(code="vehicle type", given="A", edition="2010")
    assert one.words.startswith("vehicle type A under the code's edition 2010")
    with pytest.raises(InputError, match="edition"):
        PreservationClass(code="vehicle type", given="A", edition="")
    with pytest.raises(InputError, match="class"):
        PreservationClass(code="preservation group", given="A", edition="2010")
