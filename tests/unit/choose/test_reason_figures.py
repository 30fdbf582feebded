"""The figures in a reason: none finer than what people judged by eye."""

from __future__ import annotations

from fractions import Fraction

import pytest

from asfound.choose import Option, Subject
from asfound.choose.reason import best_kept, percent


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.000022, "less than 0.1 %"),
        (0.000999, "less than 0.1 %"),
        (0.001, "0.1 %"),
        (0.00234, "0.2 %"),
        (0.0199, "2 %"),
        (0.0561, "5.6 %"),
        (0.4567, "46 %"),
        (1.0, "100 %"),
        (0.0, "0 %"),
    ],
)
def test_a_share_is_told_in_tenths_at_the_finest(share: float, words: str) -> None:
    assert percent(share) == words


def _option(name: str, kept: float) -> Option:
    return Option(subject="seat", option=name, treatment=name, kept=kept, grade=3, cost=0, hours={})


def _reason(lost: Fraction) -> str:
    subject = Subject(subject="seat", weight=3)
    mine, other = _option("stabilise", 0.9), _option("replace with new", 0.4)
    return best_kept(subject, mine, other, lost, Fraction(100)).flips_when


def test_the_weight_that_flips_it_has_three_telling_digits() -> None:
    # 100 * 0.0033333 is lost over 0.5 of the piece: the lines cross at 3 - 0.66666 = 2.33334.
    assert _reason(Fraction(33333, 10_000_000)).endswith("falls below 2.33 (now 3)")


def test_a_hair_above_the_crossing_is_said_in_words() -> None:
    told = _reason(Fraction(22, 1_000_000_000))
    assert told == (
        "to 'replace with new' as soon as its weight falls below 3, where it stands now"
    )
