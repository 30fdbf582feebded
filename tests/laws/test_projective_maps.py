"""Laws of taking perspective out of a photograph."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.measure.sheet import homography_from_points

few = settings(max_examples=60, deadline=None, database=None, derandomize=True)
nudge = st.floats(-60, 60)
quads = st.tuples(*[st.tuples(nudge, nudge) for _ in range(4)]).map(
    lambda moved: np.array([(0, 0), (400, 0), (400, 300), (0, 300)]) + np.array(moved)
)
SHEET_MM = [(0, 0), (1200, 0), (1200, 700), (0, 700)]


@few
@given(quads)
def test_four_points_come_back_exactly(quad_px) -> None:
    found = homography_from_points(points_px=quad_px, points_mm=SHEET_MM)
    assert found.to_mm(quad_px) == pytest.approx(np.array(SHEET_MM), abs=1e-6)
    assert found.u_mm is None


@few
@given(quads)
def test_there_and_back_is_where_we_were(quad_px) -> None:
    out = homography_from_points(points_px=quad_px, points_mm=SHEET_MM)
    back = homography_from_points(points_px=SHEET_MM, points_mm=quad_px)
    inside = quad_px.mean(axis=0) + np.array([(0, 0), (30, -20), (-45, 15)])
    assert back.to_mm(out.to_mm(inside)) == pytest.approx(inside, abs=1e-6)


@few
@given(quads)
def test_cross_ratio_of_four_points_on_a_line_is_kept(quad_px) -> None:
    """The classical invariant of projective maps (Pappus)."""
    found = homography_from_points(points_px=quad_px, points_mm=SHEET_MM)
    start, way = quad_px[0], quad_px[2] - quad_px[0]
    along = np.array([0.1, 0.3, 0.55, 0.9])
    mapped = found.to_mm(start + along[:, None] * way)
    distance = np.hypot(*(mapped - mapped[0]).T)

    def cross_ratio(t: np.ndarray) -> float:
        return (t[2] - t[0]) * (t[3] - t[1]) / ((t[2] - t[1]) * (t[3] - t[0]))

    assert cross_ratio(distance) == pytest.approx(cross_ratio(along), rel=1e-6)


@few
@given(quads, st.permutations(range(4)))
def test_order_of_the_points_does_not_matter(quad_px, order) -> None:
    plain = homography_from_points(points_px=quad_px, points_mm=SHEET_MM)
    mixed = homography_from_points(points_px=quad_px[order], points_mm=np.array(SHEET_MM)[order])
    middle = [quad_px.mean(axis=0)]
    assert mixed.to_mm(middle) == pytest.approx(plain.to_mm(middle), abs=1e-6)
