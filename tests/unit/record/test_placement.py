"""A placement turns a panel's own mm into the sheet's."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.record.placement import Placement, parse_placement


def moved(text: str, x: float, y: float) -> tuple[float, float]:
    placement = parse_placement(text)
    assert placement is not None
    a, b, c, d, e, f = placement.matrix
    return round(a * x + c * y + e, 9), round(b * x + d * y + f, 9)


@pytest.mark.source("SVG 2 / CSS Transforms 1, rotate(): positive angles turn clockwise, y down")
def test_a_quarter_turn_takes_right_to_down() -> None:
    assert moved("100 50 90", 10, 0) == (100, 60)
    assert moved("100 50 90", 0, 10) == (90, 50)


def test_mirrored_reverses_x_before_the_turn() -> None:
    assert moved("0 0 0 mirrored", 10, 3) == (-10, 3)
    assert moved("0 0 90 mirrored", 10, 0) == (0, -10)


def test_the_panels_own_origin_lands_where_the_cell_says() -> None:
    assert moved("1200.5 -30 33 mirrored", 0, 0) == (1200.5, -30)


def test_an_empty_cell_leaves_the_place_to_the_program() -> None:
    assert parse_placement("  ") is None


@pytest.mark.parametrize("text", ["1 2", "1 2 x", "1 2 3 upside", "mirrored", "nan 0 0", "1 2 3 4"])
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="placement"):
        parse_placement(text)


def test_a_placement_is_a_value() -> None:
    assert parse_placement("1 2 3") == Placement(dx_mm=1, dy_mm=2, angle_deg=3)
