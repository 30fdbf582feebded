"""Perspective from four points, against the closed form for the unit square."""

from __future__ import annotations

import numpy as np
import pytest

from asfound.measure.sheet import homography_from_points

UNIT_SQUARE = [(0, 0), (1, 0), (1, 1), (0, 1)]


def heckbert(quad: np.ndarray, u: float, v: float) -> tuple[float, float]:
    """Unit square to quadrilateral, entries a to h as the source names them."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = quad
    dx1, dx2, sx = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
    dy1, dy2, sy = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
    det = dx1 * dy2 - dx2 * dy1
    g, h = (sx * dy2 - dx2 * sy) / det, (dx1 * sy - sx * dy1) / det
    a, b, c = x1 - x0 + g * x1, x3 - x0 + h * x3, x0
    d, e, f = y1 - y0 + g * y1, y3 - y0 + h * y3, y0
    w = g * u + h * v + 1
    return (a * u + b * v + c) / w, (d * u + e * v + f) / w


@pytest.mark.source(
    "P. S. Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), "
    "section 2.2.3, square to quadrilateral"
)
@pytest.mark.from_memory
@pytest.mark.parametrize(
    "quad",
    [
        [(0, 0), (1000, 40), (900, 700), (60, 620)],
        [(10, 5), (420, -30), (515, 333), (-40, 290)],
    ],
)
def test_agrees_with_the_closed_form(quad) -> None:
    quad_mm = np.array(quad, float)
    found = homography_from_points(points_px=UNIT_SQUARE, points_mm=quad_mm)
    for u, v in [(0.5, 0.5), (0.2, 0.9), (0.75, 0.1)]:
        assert found.to_mm([(u, v)])[0] == pytest.approx(heckbert(quad_mm, u, v), abs=1e-8)


@pytest.mark.common_practice
def test_diagonals_of_a_photographed_rectangle_meet_at_its_middle() -> None:
    """The draughtsman's way to find the middle of a rectangle seen in perspective."""
    p0, p1, p2, p3 = quad = np.array([(120, 80), (900, 150), (860, 610), (90, 700)], float)
    found = homography_from_points(
        points_px=quad, points_mm=[(0, 0), (1600, 0), (1600, 900), (0, 900)]
    )
    share, _ = np.linalg.solve(np.column_stack([p2 - p0, p1 - p3]), p1 - p0)
    crossing = p0 + share * (p2 - p0)
    assert found.to_mm([crossing])[0] == pytest.approx((800, 450), abs=1e-6)
