"""Cautions are called by the words of the car, and none lacks its source."""

from __future__ import annotations

import pytest

from asfound.craft.cautions import CAUTIONS, cautions_for


def hazards(*words: str) -> set[str]:
    return {c.hazard for c in cautions_for(words)}


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("words", "hazard"),
    [
        ("Front brakes", "asbestos"),
        ("clutch", "asbestos"),
        ("head gaskets", "asbestos"),
        ("paint anew", "lead"),
        ("refinish", "isocyanates"),
        ("fuel tank", "petrol and its vapour"),
        ("rear springs", "springs under load"),
        ("tyres", "tyres and split rims"),
        ("engine block", "lifting and jacking"),
        ("battery tray", "batteries"),
        ("instruments", "radium and tritium"),
    ],
)
def test_a_word_of_the_car_calls_for_its_caution(words: str, hazard: str) -> None:
    assert hazard in hazards(words)


def test_a_word_within_a_word_calls_for_nothing() -> None:
    assert "springs under load" not in hazards("offspring")
    assert "tyres and split rims" not in hazards("trim")


def test_general_dangers_always_stand_and_order_is_kept() -> None:
    always = [c for c in CAUTIONS if not c.called_by]
    assert list(cautions_for([])) == always
    every = cautions_for(word for c in CAUTIONS for word in c.called_by)
    assert every == CAUTIONS


def test_each_caution_says_what_to_do_and_where_that_was_read() -> None:
    for caution in CAUTIONS:
        assert caution.do.endswith(".")
        assert caution.source
