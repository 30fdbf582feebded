"""The edge of an area is drawn without the steps of its grid, and follows the panel's rim."""

from __future__ import annotations

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, box

from asfound.dossier.figures.calm import calm

PANEL = box(0, 0, 400, 200)
STEP = 10.0


def stairs() -> Polygon:
    """Area left of a slanting line, told in cells of ``STEP``."""
    cells = [box(x, y, x + STEP, y + STEP) for y in _steps(200) for x in _steps(100 + y / 4)]
    area = shapely.union_all(cells)
    assert isinstance(area, Polygon)
    return area


def _steps(until: float) -> list[float]:
    return [k * STEP for k in range(int(until / STEP))]


def turns_deg(line: np.ndarray) -> np.ndarray:
    along = np.diff(line, axis=0)
    angle = np.unwrap(np.arctan2(along[:, 1], along[:, 0]))
    return np.abs(np.degrees(np.diff(angle)))


def inner(area: Polygon) -> np.ndarray:
    """Points of the edge that do not lie on the panel's rim, in their order."""
    points = shapely.get_coordinates(area.exterior)[:-1]
    far = shapely.distance(shapely.points(points), PANEL.boundary) > 3 * STEP
    start = int(np.argmax(~far))
    return np.roll(points, -start, axis=0)[np.roll(far, -start)]


def test_the_steps_of_the_grid_are_gone_and_the_edge_stays_within_one() -> None:
    before, after = stairs(), calm(stairs(), PANEL, reach=1.5 * STEP)
    assert turns_deg(inner(before)).max() > 80
    assert turns_deg(inner(after)).max() < 10
    assert shapely.hausdorff_distance(LineString(inner(before)), LineString(inner(after))) < STEP
    assert abs(after.area / before.area - 1) < 0.01


def test_what_follows_the_rim_of_the_panel_stays_on_it() -> None:
    after = calm(stairs(), PANEL, reach=1.5 * STEP)
    for corner in ((0, 0), (0, 200)):
        assert after.boundary.distance(Point(corner)) < 1e-9
    assert PANEL.buffer(1e-9).covers(after)


def test_an_area_within_the_panel_and_one_with_a_hole_stay_closed() -> None:
    inside = stairs().buffer(-STEP, join_style="mitre")
    ringed = inside.difference(box(40, 60, 80, 140))
    for area in (inside, ringed):
        after = calm(area, PANEL, reach=STEP)
        assert after.is_valid
        assert len(after.interiors) == len(area.interiors)
        assert abs(after.area / area.area - 1) < 0.03
