"""The unfolded sheet: which panels, what is assumed, what is refused."""

from __future__ import annotations

import itertools

import pytest
import shapely

from asfound.base import InputError
from asfound.measure.sheet import (
    BodyForm,
    SheetPanel,
    TapeMeasurements,
    complete,
    unfolded_sheet,
)
from asfound.record.placement import parse_placement

FOUR = {"wheelbase_mm": 2500, "length_mm": 4200, "width_mm": 1600, "height_mm": 1450}
LOW = FOUR | {"height_mm": 950}
ALL_TAPED = FOUR | {
    "front_overhang_mm": 720,
    "rear_overhang_mm": 980,
    "bonnet_mm": 1080,
    "bonnet_width_mm": 1150,
    "boot_mm": 800,
    "front_door_mm": 960,
    "rear_door_mm": 820,
    "sill_mm": 190,
    "wheel_mm": 610,
    "glass_mm": 400,
}


def sheet_of(form: BodyForm, wings: bool = False, **changes: float) -> dict[str, SheetPanel]:
    lengths = (FOUR if form.closed else LOW) | changes
    panels = unfolded_sheet(form, TapeMeasurements(**lengths), separate_wings=wings)
    return {p.panel: p for p in panels}


@pytest.mark.parametrize(
    ("form", "has", "has_not"),
    [
        (
            BodyForm.SALOON,
            {"roof", "boot lid", "left rear door", "right side frame"},
            {"left door"},
        ),
        (BodyForm.COUPE, {"roof", "boot lid", "left door"}, {"left rear door"}),
        (BodyForm.OPEN_TWO_SEATER, {"tonneau panel", "left door"}, {"roof", "left side frame"}),
        (BodyForm.OPEN_FOUR_SEATER, {"tonneau panel", "left rear door"}, {"roof"}),
        (BodyForm.ESTATE, {"tailgate", "left rear door"}, {"boot lid", "rear panel"}),
        (BodyForm.VAN, {"left load side", "right load door"}, {"boot lid", "left rear wing"}),
        (BodyForm.PICK_UP, {"left bed side", "bed floor", "tailboard"}, {"boot lid"}),
    ],
)
def test_each_form_has_its_panels(form, has, has_not) -> None:
    names = set(sheet_of(form))
    assert has | {"bonnet", "scuttle", "front valance", "left front wing"} <= names
    assert not has_not & names


@pytest.mark.parametrize("form", list(BodyForm))
def test_separate_wings_bring_running_board_and_bonnet_sides(form) -> None:
    names = set(sheet_of(form, wings=True))
    assert {"left running board", "right bonnet side", "left rear wing", "radiator shell"} <= names
    assert not {"left sill", "front valance"} & names


def test_what_nobody_taped_is_named() -> None:
    lengths = complete(BodyForm.SALOON, TapeMeasurements(**FOUR), separate_wings=False)
    assert "bonnet_mm" in lengths.assumed
    assert "front_overhang_mm" in lengths.assumed
    assert "wheelbase_mm" not in lengths.assumed
    full = complete(BodyForm.SALOON, TapeMeasurements(**ALL_TAPED), separate_wings=False)
    assert full.assumed == ()
    assert (full.bonnet, full.glass, full.sill) == (1080, 400, 190)


def test_what_a_form_lacks_is_not_assumed() -> None:
    lengths = complete(BodyForm.OPEN_TWO_SEATER, TapeMeasurements(**LOW), separate_wings=False)
    assert not {"glass_mm", "rear_door_mm"} & set(lengths.assumed)


def test_a_taped_rear_overhang_closes_the_sum() -> None:
    tape = TapeMeasurements(**FOUR, rear_overhang_mm=900)
    lengths = complete(BodyForm.VAN, tape, separate_wings=False)
    assert lengths.front_overhang == 800
    assert "front_overhang_mm" not in lengths.assumed


def test_fourteen_lengths_draw_a_sheet_without_overlap() -> None:
    panels = unfolded_sheet(BodyForm.SALOON, TapeMeasurements(**ALL_TAPED), separate_wings=False)
    for one, other in itertools.combinations(panels, 2):
        assert one.on_sheet.intersection(other.on_sheet).area == 0


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"wheelbase_mm": 0}, "wheelbase_mm"),
        ({"width_mm": float("nan")}, "width_mm"),
        ({"glass_mm": -1}, "glass_mm"),
        ({"wheelbase_mm": 4190}, "wheelbase_mm"),
        ({"bonnet_mm": 2600}, "bonnet_mm"),
        ({"bonnet_width_mm": 1700}, "bonnet_width_mm"),
        ({"sill_mm": 900}, "sill_mm"),
        ({"front_overhang_mm": 1800}, "front_overhang_mm"),
        ({"front_overhang_mm": 800, "rear_overhang_mm": 1000}, "length_mm"),
    ],
)
def test_tape_that_contradicts_itself_is_refused(changes, field) -> None:
    with pytest.raises(InputError) as refusal:
        TapeMeasurements(**(FOUR | changes))
    assert refusal.value.field == field


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"front_door_mm": 1500, "rear_door_mm": 1500}, "front_door_mm"),
        ({"rear_door_mm": 150}, "rear_door_mm"),
        ({"boot_mm": 1900, "front_door_mm": 440, "rear_door_mm": 450}, "front_door_mm"),
        ({"sill_mm": 800}, "sill_mm"),
    ],
)
def test_lengths_that_do_not_fit_together_are_refused(changes, field) -> None:
    with pytest.raises(InputError) as refusal:
        sheet_of(BodyForm.SALOON, **changes)
    assert refusal.value.field == field


def test_a_roof_needs_room() -> None:
    with pytest.raises(InputError) as refusal:
        sheet_of(BodyForm.COUPE, boot_mm=1700, front_door_mm=500)
    assert refusal.value.field == "boot_mm"


def test_top_panels_follow_each_other_from_nose_to_tail() -> None:
    sheet = sheet_of(BodyForm.SALOON)
    order = ["front valance", "bonnet", "scuttle", "roof", "boot lid", "rear panel"]
    boxes = [sheet[name].on_sheet.bounds for name in order]
    for ahead, behind in itertools.pairwise(boxes):
        assert ahead[2] < behind[0]
    for box in boxes:
        assert box[1] == pytest.approx(-box[3], abs=1.0)


def test_left_side_lies_upright_below_the_top_and_right_side_above() -> None:
    sheet = sheet_of(BodyForm.SALOON)
    assert sheet["left sill"].on_sheet.centroid.y > sheet["left front door"].on_sheet.centroid.y
    assert sheet["left front door"].on_sheet.bounds[1] > sheet["roof"].on_sheet.bounds[3]
    assert sheet["right front door"].on_sheet.bounds[3] < sheet["roof"].on_sheet.bounds[1]


def test_a_panel_faces_the_person_who_stands_before_it() -> None:
    """Standing at the right side the nose is to the right, so the outlines are left and right."""
    sheet = sheet_of(BodyForm.SALOON)
    left, right = sheet["left rear wing"].outline, sheet["right rear wing"].outline
    width = left.bounds[2]
    assert right.centroid.x == pytest.approx(width - left.centroid.x)
    assert left.symmetric_difference(right).area > 0.01 * left.area


def test_sections_say_in_which_part_of_the_car_a_panel_is() -> None:
    sheet = sheet_of(BodyForm.SALOON) | sheet_of(BodyForm.VAN)
    assert {sheet[p].section for p in ("bonnet", "left front wing", "front valance")} == {"front"}
    assert {sheet[p].section for p in ("left rear door", "roof", "right sill")} == {"middle"}
    assert {sheet[p].section for p in ("boot lid", "left load side", "left load door")} == {"rear"}


@pytest.mark.parametrize("panel", ["left front wing", "right rear wing", "front valance", "roof"])
def test_placement_text_means_on_the_record_what_it_means_here(panel) -> None:
    drawn = sheet_of(BodyForm.SALOON)[panel]
    placement = parse_placement(drawn.placement_text)
    assert placement is not None
    a, b, c, d, e, f = placement.matrix
    recorded = shapely.transform(
        drawn.outline,
        lambda xy: xy @ [[a, b], [c, d]] + [e, f],
    )
    assert recorded.hausdorff_distance(drawn.on_sheet) < 0.1


def test_outline_text_reads_back_to_a_tenth_of_a_millimetre() -> None:
    bonnet = sheet_of(BodyForm.SALOON)["bonnet"]
    back = shapely.from_wkt(bonnet.outline_wkt)
    assert back.is_valid
    assert back.hausdorff_distance(bonnet.outline) < 0.1


def test_a_panel_with_a_hole_is_refused() -> None:
    ring = shapely.Point(0, 0).buffer(10) - shapely.Point(0, 0).buffer(5)
    with pytest.raises(InputError, match="no holes"):
        SheetPanel(panel="p", section="s", view="top", outline=ring, placement=(0, 0, 0, False))


@pytest.mark.common_practice
def test_a_middling_saloon_has_panels_of_the_usual_size() -> None:
    sheet = sheet_of(BodyForm.SALOON)
    assert 0.9 < sheet["bonnet"].area_m2 < 1.6
    assert 0.4 < sheet["left front door"].area_m2 < 0.9
    assert 7 < sum(p.area_m2 for p in sheet.values()) < 12
