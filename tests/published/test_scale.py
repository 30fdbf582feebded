"""The words for a weight of evidence against the published verbal scale."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.weigh import weight_in_words


@pytest.mark.source(
    "ENFSI guideline for evaluative reporting in forensic science, 2015, verbal scale; "
    "an edge takes the higher band, where public renderings differ"
)
@pytest.mark.parametrize(
    ("lr", "degree"),
    [
        (1, "neutral"),
        (2, "neutral"),
        (2.1, "weak"),
        (9.99, "weak"),
        (10, "moderate"),
        (99, "moderate"),
        (100, "moderately strong"),
        (500, "moderately strong"),
        (1_000, "strong"),
        (9_999, "strong"),
        (10_000, "very strong"),
        (999_999, "very strong"),
        (1_000_000, "extremely strong"),
    ],
)
def test_bands(lr: float, degree: str) -> None:
    assert weight_in_words(lr).degree == degree
    assert weight_in_words(1 / lr).degree == degree


def test_below_one_the_alternative_is_supported() -> None:
    assert weight_in_words(1 / 500).favours == "alternative"
    assert weight_in_words(500).favours == "statement"
    assert weight_in_words(0.5).favours == "neither"


@pytest.mark.parametrize("lr", [0, -1, float("nan")])
def test_no_ratio(lr: float) -> None:
    with pytest.raises(InputError):
        weight_in_words(lr)
