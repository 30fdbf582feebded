"""Laws of the unfolded sheet: to scale, mirrored, without overlaps, true to the tape."""

from __future__ import annotations

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from asfound.measure.sheet import (
    BodyForm,
    SheetPanel,
    TapeMeasurements,
    complete,
    unfolded_sheet,
)

few = settings(max_examples=25, deadline=None, database=None, derandomize=True)
forms = st.sampled_from(list(BodyForm))


@st.composite
def cars(draw: st.DrawFn) -> tuple[BodyForm, TapeMeasurements, bool]:
    form, wings = draw(forms), draw(st.booleans())
    wheelbase = draw(st.floats(1800, 3500))
    tall = draw(st.floats(0.50, 0.64) if form.closed else st.floats(0.34, 0.42))
    tape = TapeMeasurements(
        wheelbase_mm=wheelbase,
        length_mm=wheelbase * draw(st.floats(1.45, 1.65)),
        width_mm=wheelbase * draw(st.floats(0.56, 0.70)),
        height_mm=wheelbase * tall * (1.15 if wings or form is BodyForm.VAN else 1.0),
    )
    return form, tape, wings


def drawn(car: tuple[BodyForm, TapeMeasurements, bool]) -> tuple[SheetPanel, ...]:
    form, tape, wings = car
    return unfolded_sheet(form, tape, separate_wings=wings)


def side(sheet: tuple[SheetPanel, ...], view: str) -> list[SheetPanel]:
    return [p for p in sheet if p.view == view]


@few
@given(cars())
def test_panels_are_simple_outlines_that_never_overlap(car) -> None:
    placed = [(p.panel, p.on_sheet) for p in drawn(car)]
    assert len({name for name, _ in placed}) == len(placed)
    for _, shape in placed:
        assert shape.is_valid
        assert not shape.interiors
    for (name, shape), (other, its_shape) in itertools.combinations(placed, 2):
        assert shape.intersection(its_shape).area == 0, (name, other)


@few
@given(cars())
def test_own_millimetres_begin_at_zero(car) -> None:
    for panel in drawn(car):
        assert panel.outline.bounds[:2] == pytest.approx((0, 0), abs=1e-6)


@few
@given(cars())
def test_left_and_right_mirror_each_other_across_the_middle(car) -> None:
    sheet = drawn(car)
    right = {p.panel.removeprefix("right "): p for p in side(sheet, "right")}
    left = side(sheet, "left")
    assert {p.panel.removeprefix("left ") for p in left} == set(right)
    for panel in left:
        twin = right[panel.panel.removeprefix("left ")]
        assert twin.area_m2 == pytest.approx(panel.area_m2)
        flipped = affinity.scale(panel.on_sheet, yfact=-1, origin=(0, 0))
        assert flipped.symmetric_difference(twin.on_sheet).area < 1e-6 * panel.outline.area


@few
@given(cars())
def test_sides_are_as_long_as_the_tape_says(car) -> None:
    boxes = [p.on_sheet.bounds for p in side(drawn(car), "left")]
    length_mm = car[1].length_mm
    assert min(b[0] for b in boxes) == pytest.approx(0, abs=1e-3 * length_mm)
    assert max(b[2] for b in boxes) == pytest.approx(length_mm, rel=1e-3)


@few
@given(forms, st.booleans(), st.floats(0.25, 0.75))
def test_short_overhangs_still_reach_nose_and_tail(form, wings, share) -> None:
    tape = TapeMeasurements(
        wheelbase_mm=2500,
        length_mm=3500,
        width_mm=1500,
        height_mm=1500 if form.closed else 950,
        front_overhang_mm=1000 * share,
        bonnet_mm=750,
    )
    sheet = drawn((form, tape, wings))
    boxes = [p.on_sheet.bounds for p in side(sheet, "left")]
    assert min(b[0] for b in boxes) == pytest.approx(0, abs=4)
    assert max(b[2] for b in boxes) == pytest.approx(3500, abs=4)
    for one, other in itertools.combinations(sheet, 2):
        assert one.on_sheet.intersection(other.on_sheet).area == 0


@few
@given(cars())
def test_wheel_openings_stand_a_wheelbase_apart(car) -> None:
    """The two widest gaps just above the sill's underside are the wheel openings."""
    form, tape, wings = car
    lengths = complete(form, tape, separate_wings=wings)
    body = shapely.union_all([p.on_sheet for p in side(drawn(car), "left")])
    ground = tape.width_mm / 2 + 0.02 * tape.wheelbase_mm + tape.height_mm
    level = ground - lengths.sill - (0.01 if wings else 0.038) * tape.wheelbase_mm
    along = shapely.LineString([(-1e4, level), (1e5, level)])
    metal = sorted((g.bounds[0], g.bounds[2]) for g in along.intersection(body).geoms)
    gaps = sorted(
        ((b[0] - a[1], (b[0] + a[1]) / 2) for a, b in itertools.pairwise(metal)), reverse=True
    )
    front, rear = sorted(middle for _, middle in gaps[:2])
    assert front == pytest.approx(lengths.front_overhang, abs=2e-3 * tape.wheelbase_mm)
    assert rear - front == pytest.approx(tape.wheelbase_mm, rel=2e-3)


@few
@given(cars(), st.floats(0.2, 5.0))
def test_areas_grow_with_the_square_of_size(car, factor) -> None:
    form, tape, wings = car
    larger = TapeMeasurements(
        wheelbase_mm=tape.wheelbase_mm * factor,
        length_mm=tape.length_mm * factor,
        width_mm=tape.width_mm * factor,
        height_mm=tape.height_mm * factor,
    )
    for small, large in zip(drawn(car), drawn((form, larger, wings)), strict=True):
        assert small.panel == large.panel
        assert large.area_m2 == pytest.approx(small.area_m2 * factor**2, rel=1e-3)


@few
@given(st.booleans(), st.floats(0.9, 1.05), st.floats(0.9, 1.05), st.floats(0.9, 1.05))
def test_taped_panels_come_out_as_long_as_taped(wings, bonnet, door, boot) -> None:
    base = TapeMeasurements(wheelbase_mm=2500, length_mm=4100, width_mm=1600, height_mm=1500)
    usual = complete(BodyForm.SALOON, base, separate_wings=wings)
    tape = TapeMeasurements(
        wheelbase_mm=2500,
        length_mm=4100,
        width_mm=1600,
        height_mm=1500,
        bonnet_mm=usual.bonnet * bonnet * 0.95,
        front_door_mm=usual.front_door * door * 0.95,
        rear_door_mm=usual.rear_door * 0.95,
        boot_mm=usual.boot * boot * 0.95,
    )
    sheet = {p.panel: p for p in unfolded_sheet(BodyForm.SALOON, tape, separate_wings=wings)}

    def long_mm(panel: str) -> float:
        return sheet[panel].outline.bounds[2]

    assert long_mm("bonnet") == pytest.approx(tape.bonnet_mm, rel=1e-3)
    assert long_mm("boot lid") == pytest.approx(tape.boot_mm, rel=1e-3)
    assert long_mm("left front door") == pytest.approx(tape.front_door_mm, rel=3e-3)
    assert long_mm("right rear door") == pytest.approx(tape.rear_door_mm, rel=3e-3)
