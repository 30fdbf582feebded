"""The panels read as one car unfolded."""

from __future__ import annotations

import pytest
import shapely
from shapely import Point, Polygon
from shapely.affinity import affine_transform, scale

from asfound.demo import demo_folder
from asfound.demo.panels import drawn_panels
from asfound.record.placement import parse_placement


@pytest.fixture(scope="module")
def on_sheet() -> dict[str, Polygon]:
    laid = {}
    for drawn in drawn_panels():
        placement = parse_placement(drawn.placement)
        assert placement is not None
        a, b, c, d, e, f = placement.matrix
        laid[drawn.panel] = affine_transform(drawn.outline, [a, c, b, d, e, f])
    return laid


def test_panels_do_not_lie_on_each_other(on_sheet: dict[str, Polygon]) -> None:
    names = list(on_sheet)
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            assert not on_sheet[one].buffer(-1).intersects(on_sheet[other]), (one, other)


def test_right_is_the_mirror_of_left_across_the_centre_line(on_sheet: dict[str, Polygon]) -> None:
    centre_y = on_sheet["bonnet"].centroid.y
    for name, left in on_sheet.items():
        if name.startswith("left "):
            mirrored = scale(left, yfact=-1, origin=(0, centre_y))
            right = on_sheet[name.replace("left", "right")]
            assert mirrored.symmetric_difference(right).area < 0.01 * right.area, name


def test_sections_lie_around_the_top(on_sheet: dict[str, Polygon]) -> None:
    centre = {name: shape.centroid for name, shape in on_sheet.items()}
    assert centre["nose panel"].x < centre["bonnet"].x < centre["boot lid"].x
    assert centre["boot lid"].x < centre["rear valance"].x
    assert centre["right door"].y < centre["bonnet"].y < centre["left door"].y


def test_outlines_are_curved_and_arches_cut_out() -> None:
    for drawn in drawn_panels():
        assert shapely.get_num_coordinates(drawn.outline) > 25
        assert drawn.outline.bounds[:2] == (0.0, 0.0)
        if drawn.panel.endswith("wing"):
            hull = drawn.outline.convex_hull.area
            assert drawn.outline.area < 0.8 * hull


def test_every_spot_lies_on_its_panel() -> None:
    outlines = {drawn.panel: drawn.outline for drawn in drawn_panels()}
    for row in demo_folder().sheet("film"):
        place = Point(row.number("x_mm"), row.number("y_mm"))
        assert outlines[row.text("panel")].buffer(-20).covers(place)
