"""Figures held to grids: near the figure, and letting go of few panels at a time."""

import itertools
import math

import pytest

from asfound.measure.film.car import CarLevel, Habits
from asfound.measure.film.steady import BETWEEN_STEP, beside, steady

PANELS = range(13)


@pytest.mark.parametrize("place", PANELS)
@pytest.mark.parametrize("value", [0.03, 1.0, 171.0])
def test_a_held_figure_lies_within_half_a_step(place: int, value: float) -> None:
    held = steady(value, step=0.1, beside=beside(place))
    assert abs(math.log(held / value)) <= 0.05 + 1e-12


def test_a_habit_on_the_move_lets_go_of_few_panels_at_a_time() -> None:
    moves = [math.exp(BETWEEN_STEP * k / 26) for k in range(27)]
    habits = [Habits(within=0.07, length_mm=220.0, between=0.04 * move) for move in moves]
    changed = [
        sum(before.steady(place) != after.steady(place) for place in PANELS)
        for before, after in itertools.pairwise(habits)
    ]
    assert sum(changed) == len(PANELS)  # over one step each panel lets go once
    assert max(changed) <= 2


def test_shares_of_the_level_are_held_as_well() -> None:
    one = CarLevel((170.0, 302.0), (5.0, 9.0), (0.71, 0.29))
    other = CarLevel((170.1, 302.2), (5.01, 9.01), (0.708, 0.292))
    assert one.steady(3) == other.steady(3)
    assert math.isclose(sum(one.steady(3).weight), 1.0)
