"""Words for findings: kinds that are offered, severity in words."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.craft.conditions import KINDS, SEVERITIES, severity_of


def test_every_kind_is_there_once_and_says_what_is_meant() -> None:
    words = [kind.word for kind in KINDS]
    assert len(words) == len({word.casefold() for word in words})
    assert all(kind.group and kind.says for kind in KINDS)


def test_severity_goes_from_0_to_4_in_words_of_their_own() -> None:
    assert [step.grade for step in SEVERITIES] == [0, 1, 2, 3, 4]
    assert len({step.word for step in SEVERITIES}) == 5
    assert "hurt" in severity_of(4).says


@pytest.mark.parametrize(("figure", "grade"), [(0, 0), (0.49, 0), (0.5, 1), (2.5, 3), (4, 4)])
def test_a_figure_between_two_steps_is_the_nearest_and_never_the_milder(
    figure: float, grade: int
) -> None:
    assert severity_of(figure).grade == grade


@pytest.mark.parametrize("figure", [-0.1, 4.1, float("nan")])
def test_a_figure_outside_is_told(figure: float) -> None:
    with pytest.raises(InputError, match="severity"):
        severity_of(figure)
