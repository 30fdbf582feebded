"""The weight of a piece from its criteria, against sums done by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from asfound.base import InputError
from asfound.weigh.significance import GRADES, SUPPLIED, Criterion, Graded, significance

CRITERIA = (
    Criterion(name="historic", weight=2),
    Criterion(name="rarity", weight=0.5),
    Criterion(name="prompt", weight=0),
)


def graded(**grades: str) -> tuple[Graded, ...]:
    return tuple(Graded(criterion=name, grade=grade) for name, grade in grades.items())


def test_the_sum_by_hand() -> None:
    """(2 x 3 + 0.5 x 5) / 2.5 = 8.5 / 2.5 = 3.4"""
    found = significance(graded(rarity="exceptional", historic="considerable"), criteria=CRITERIA)
    assert found is not None
    assert found.value == 3.4
    assert found.sum_in_words == "(2 × 3 + 0.5 × 5) / (2 + 0.5) = 3.4"


def test_half_a_hundredth_goes_up() -> None:
    """(3 x 1 + 1 x 0) / 4 = 0.75; (1 x 5 + 7 x 0) / 8 = 0.625, told as 0.63"""
    one, seven = Criterion(name="a", weight=1), Criterion(name="b", weight=7)
    found = significance(graded(a="exceptional", b="none"), criteria=(one, seven))
    assert found is not None
    assert found.value == 0.63


def test_what_is_not_graded_is_left_out_and_not_taken_for_none() -> None:
    found = significance(graded(historic="considerable"), criteria=CRITERIA)
    assert found is not None
    assert found.value == 3
    assert [term.graded.criterion for term in found.terms] == ["historic"]


@pytest.mark.parametrize("grades", [{}, {"prompt": "exceptional"}, {"unheard of": "some"}])
def test_without_a_criterion_that_counts_there_is_no_weight(grades: dict[str, str]) -> None:
    assert significance(graded(**grades), criteria=CRITERIA) is None


def test_bad_input_is_named() -> None:
    with pytest.raises(InputError, match="none, some, considerable, exceptional"):
        Graded(criterion="historic", grade="great")
    with pytest.raises(InputError, match="zero or more"):
        Criterion(name="x", weight=-1)


@given(
    st.dictionaries(st.sampled_from([c.name for c in SUPPLIED]), st.sampled_from([*GRADES])),
    st.floats(0.1, 9),
)
def test_the_weight_lies_between_the_grades_and_scaling_all_weights_changes_nothing(
    grades: dict[str, str], factor: float
) -> None:
    found = significance(graded(**grades))
    scaled = tuple(Criterion(name=c.name, weight=c.weight * factor) for c in SUPPLIED)
    again = significance(graded(**grades), criteria=scaled)
    assert (found is None) == (not grades)
    if found is not None and again is not None:
        counts = [GRADES[grade] for grade in grades.values()]
        assert min(counts) <= found.value <= max(counts)
        assert again.value == pytest.approx(found.value, abs=0.0101)


@pytest.mark.source(
    "Significance 2.0 (Collections Council of Australia, 2009): four primary criteria and four "
    "comparative ones; names looked up"
)
def test_the_criteria_supplied_are_those_of_the_guide() -> None:
    primary = {"historic", "aesthetic", "technical", "social"}
    comparative = {"provenance", "rarity", "completeness", "what it can show"}
    assert {c.name for c in SUPPLIED if "primary" in c.source} == primary
    assert {c.name for c in SUPPLIED if "comparative" in c.source} == comparative
    assert {c.weight for c in SUPPLIED} == {1.0}
