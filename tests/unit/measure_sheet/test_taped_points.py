"""Taped points on a photo: scatter, refusals, traces."""

from __future__ import annotations

import numpy as np
import pytest

from asfound.base import InputError
from asfound.measure.sheet import homography_from_points, trace_to_panel

TRUE_PX_TO_MM = np.array([[2.1, 0.15, -40.0], [-0.08, 2.3, 25.0], [1e-4, -2e-4, 1.0]])
GRID_PX = np.array([(x, y) for x in (50, 250, 450, 650) for y in (40, 240, 440)], float)
CORNERS_PX = [(0, 0), (100, 0), (100, 100), (0, 100)]
CORNERS_MM = [(0, 0), (500, 0), (500, 500), (0, 500)]


def true_mm(points_px: np.ndarray) -> np.ndarray:
    w = np.column_stack([points_px, np.ones(len(points_px))]) @ TRUE_PX_TO_MM.T
    return w[:, :2] / w[:, 2:]


def test_twelve_exact_points_leave_no_residual() -> None:
    found = homography_from_points(points_px=GRID_PX, points_mm=true_mm(GRID_PX))
    assert max(found.residuals_mm) < 1e-8
    assert found.u_mm is not None
    assert found.u_mm.dof == 16
    probe = np.array([(333.0, 111.0)])
    assert found.to_mm(probe) == pytest.approx(true_mm(probe), abs=1e-8)


def test_scatter_and_uncertainty_match_repeated_taping() -> None:
    """3 mm of taping error in x and y, 400 times: stated scatter and spread agree with it."""
    rng = np.random.default_rng(11)
    probe, exact = (600.0, 80.0), true_mm(GRID_PX)
    places, variances, stated = [], [], []
    for _ in range(400):
        taped = exact + rng.normal(0, 3.0, exact.shape)
        found = homography_from_points(points_px=GRID_PX, points_mm=taped)
        assert found.u_mm is not None
        places.append(found.to_mm([probe])[0])
        variances.append(found.u_mm.value**2)
        stated.append(np.square(found.uncertainty_mm(probe)))
    assert np.mean(variances) == pytest.approx(9.0, rel=0.08)
    assert np.var(places, axis=0) == pytest.approx(np.mean(stated, axis=0), rel=0.25)


def test_a_slipped_point_stands_out() -> None:
    taped = true_mm(GRID_PX)
    taped[5] += (0, 40)
    found = homography_from_points(points_px=GRID_PX, points_mm=taped)
    assert int(np.argmax(found.residuals_mm)) == 5


def test_a_trace_of_the_square_is_the_square() -> None:
    found = homography_from_points(points_px=CORNERS_PX, points_mm=CORNERS_MM)
    outline = trace_to_panel([(20, 20), (60, 20), (60, 80), (20, 80)], found)
    assert outline.bounds == pytest.approx((0, 0, 200, 300))
    assert outline.area == pytest.approx(200 * 300)


@pytest.mark.parametrize(
    ("px", "mm", "field"),
    [
        (CORNERS_PX[:3], CORNERS_MM[:3], "points_mm"),
        (CORNERS_PX, CORNERS_MM[:3], "points_mm"),
        ([(0, 0), (50, 50), (100, 100), (0, 100)], CORNERS_MM, "points"),
        ([(5, 5)] * 4, CORNERS_MM, "points"),
        ([(0, 0, 1)] * 4, CORNERS_MM, "points_px"),
        ([(0, 0), (np.nan, 0), (1, 1), (0, 1)], CORNERS_MM, "points_px"),
        ([(0, 0), (100, 100), (100, 0), (0, 100)], CORNERS_MM, "points"),
        ([(0, 0), (100, 100), (140, 0), (0, 80)], CORNERS_MM, "points_px"),
    ],
)
def test_points_that_fix_no_map_are_refused(px, mm, field) -> None:
    with pytest.raises(InputError) as refusal:
        homography_from_points(points_px=px, points_mm=mm)
    assert refusal.value.field == field


def test_a_crossed_trace_and_a_pixel_beyond_the_horizon_are_refused() -> None:
    found = homography_from_points(points_px=CORNERS_PX, points_mm=CORNERS_MM)
    with pytest.raises(InputError, match="cross itself"):
        trace_to_panel([(0, 0), (100, 100), (100, 0), (0, 100)], found)
    with pytest.raises(InputError, match="three points"):
        trace_to_panel([(0, 0), (100, 100)], found)
    leaning = homography_from_points(
        points_px=[(0, 0), (100, 0), (80, 50), (20, 50)], points_mm=CORNERS_MM
    )
    with pytest.raises(InputError, match="horizon"):
        leaning.to_mm([(50, 500)])


def test_four_points_state_no_uncertainty() -> None:
    found = homography_from_points(points_px=CORNERS_PX, points_mm=CORNERS_MM)
    with pytest.raises(InputError, match="five or more"):
        found.uncertainty_mm((50, 50))
