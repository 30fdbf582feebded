"""Rectangles in rectangles: when one can be laid within another, turned or not."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely import MultiPolygon

from asfound.craft.salvage import Laid, lay_within

FINE = tuple(k * 0.02 for k in range(90 * 50 + 1))
pytestmark = [
    pytest.mark.source(
        "W. B. Carver, American Mathematical Monthly 64 (1957) 114-116; J. E. Wetzel, "
        "Rectangles in Rectangles, Mathematics Magazine 73 (2000) 204-211"
    ),
    pytest.mark.from_memory,
]


def broadest(p: float, a: float, b: float) -> float:
    """Greatest q for which p by q, p longer than a, still lies in a by b, by bisection.

    The criterion: b >= (2pqa + (p² - q²) √(p² + q² - a²)) / (p² + q²).
    """
    low, high = 0.0, b
    for _ in range(80):
        q = (low + high) / 2
        need = 2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)
        low, high = (q, high) if need / (p * p + q * q) <= b else (low, q)
    return low


@pytest.mark.parametrize(("p", "a", "b"), [(1050, 1000, 600), (1100, 1000, 800), (1300, 1000, 990)])
def test_a_longer_rectangle_lies_across_up_to_the_published_breadth(
    p: float, a: float, b: float
) -> None:
    q = broadest(p, a, b)
    sheet = MultiPolygon([shapely.box(0, 0, a, b)])
    assert isinstance(lay_within(shapely.box(0, 0, p, q - 1.5), sheet, turns=FINE), Laid)
    assert not isinstance(lay_within(shapely.box(0, 0, p, q + 1.5), sheet, turns=FINE), Laid)


def test_a_rectangle_of_the_same_size_just_fits() -> None:
    sheet = MultiPolygon([shapely.box(0, 0, 620, 410)])
    assert isinstance(lay_within(shapely.box(0, 0, 410, 620), sheet), Laid)
    assert not isinstance(lay_within(shapely.box(0, 0, 410, 621), sheet), Laid)
