"""A car begun from a tape, its sheet drawn anew, its outlines corrected, replaced and added."""

from __future__ import annotations

import pytest
import shapely
from django.core.exceptions import PermissionDenied

from asfound.base import InputError
from asfound.measure.sheet import BodyForm, SheetPanel, TapeMeasurements, unfolded_sheet
from asfound.record.actions import (
    add_observations,
    add_panel,
    can_redraw,
    lawful_outline,
    move_outline,
    redraw_sheet,
    replace_outline,
    start_car,
    withdraw_film_reading,
)
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Person

TAPE = {"wheelbase_mm": 2400, "length_mm": 3900, "width_mm": 1500, "height_mm": 1400}
IDENTITY = {"marque": "Selvany", "model": "Orla", "body_style": "van", "built": "1958~", "note": ""}
TALLER = "POLYGON ((0 0, 9 0, 9 8, 0 8, 0 0))"


def drawn(form: BodyForm = BodyForm.VAN) -> tuple[SheetPanel, ...]:
    return unfolded_sheet(form, TapeMeasurements(**TAPE), separate_wings=False)


def test_a_car_begins_with_identity_and_panels(head: Person) -> None:
    car = start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=head.user)
    folder = folder_of(car)
    assert folder.name == "Selvany Orla"
    assert "note" not in folder.sheet("car").columns
    kept = {row.text("panel"): row.text("outline_wkt") for row in folder.sheet("panels")}
    assert kept == {p.panel: p.outline_wkt for p in drawn()}
    last = Entry.objects.last()
    assert (last.action, last.who, last.after) == ("draw sheet", "head", {"tape": TAPE})
    assert check_chain().broken is None


def test_a_car_is_begun_once(head: Person) -> None:
    start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=head.user)
    with pytest.raises(InputFaultsError, match="already"):
        start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=head.user)
    assert Car.objects.count() == 1


def test_an_owner_begins_no_car(owner: Person) -> None:
    with pytest.raises(PermissionDenied):
        start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=owner.user)


def test_a_sheet_without_readings_is_drawn_anew(head: Person) -> None:
    car = start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=head.user)
    saloon = drawn(BodyForm.SALOON)
    redraw_sheet(car=car, panels=saloon, tape=TAPE, by=head.user)
    assert [row.text("panel") for row in folder_of(car).sheet("panels")] == [
        p.panel for p in saloon
    ]
    before = {row["panel"] for row in Entry.objects.last().before["panels"]}
    assert before == {p.panel for p in drawn()}


def test_a_sheet_with_readings_stays_until_none_counts(car: Car, head: Person) -> None:
    assert not can_redraw(car)
    with pytest.raises(InputError, match="Edit the outline of a single panel"):
        redraw_sheet(car=car, panels=drawn(), tape=TAPE, by=head.user)
    assert car.panels.count() == 2
    for reading in car.film_readings.all():
        withdraw_film_reading(reading=reading, reason="wrong car", by=head.user)
    assert can_redraw(car)


def test_a_colour_reading_holds_the_sheet_too(head: Person) -> None:
    car = start_car(identity=IDENTITY, panels=drawn(), tape=TAPE, by=head.user)
    rows = [{"panel": "roof", "x_mm": "5"}]
    add_observations(car=car, table="colour", rows=rows, by=head.user)
    assert not can_redraw(car)


def test_a_moved_outline_keeps_its_readings_and_what_it_was(car: Car, head: Person) -> None:
    roof = car.panels.get(panel="roof")
    was = roof.outline_wkt
    move_outline(panel=roof, outline_wkt=TALLER, was_wkt=was, reason="rear edge", by=head.user)
    assert shapely.from_wkt(car.panels.get(panel="roof").outline_wkt).area == 72
    assert car.film_readings.current().filter(panel="roof", x_mm=3, y_mm=4).count() == 1
    entry = Entry.objects.last()
    assert entry.before == {"panel": "roof", "outline_wkt": was}
    assert entry.after["reason"] == "rear edge"


@pytest.mark.parametrize(
    ("outline", "rule"),
    [
        ("POLYGON ((0 0, 9 6, 9 0, 0 6, 0 0))", "does not cross itself"),
        ("LINESTRING (0 0, 9 6)", "closed polygon"),
        ("POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0), (2 2, 3 2, 3 3, 2 2))", "without holes"),
        ("POLYGON ((0 0, 90000 0, 9 9, 0 0))", "20 m"),
        ("POLYGON ((0 0, 0.01 0, 0.01 0.01, 0 0))", "around some area"),
        ("not drawn", "closed polygon"),
    ],
)
def test_an_unlawful_outline_is_refused(outline: str, rule: str) -> None:
    with pytest.raises(InputError, match=rule):
        lawful_outline(outline)


def test_who_comes_second_with_an_outline_is_told(car: Car, head: Person) -> None:
    roof = car.panels.get(panel="roof")
    with pytest.raises(InputError, match="somebody else"):
        move_outline(panel=roof, outline_wkt=TALLER, was_wkt=TALLER, reason="x", by=head.user)
    with pytest.raises(InputError, match="reason"):
        move_outline(
            panel=roof, outline_wkt=TALLER, was_wkt=roof.outline_wkt, reason=" ", by=head.user
        )


def test_a_trace_replaces_only_an_outline_without_readings(car: Car, head: Person) -> None:
    roof = car.panels.get(panel="roof")
    with pytest.raises(InputError, match="without readings"):
        replace_outline(panel=roof, outline_wkt=TALLER, reason="photo", by=head.user)
    bare = _add(car, head, "tonneau")
    replace_outline(panel=bare, outline_wkt=TALLER, reason="photo", by=head.user)
    assert shapely.from_wkt(car.panels.get(panel="tonneau").outline_wkt).area == 72


def test_an_added_panel_stands_in_the_folder(car: Car, head: Person) -> None:
    _add(car, head, "tonneau")
    row = list(folder_of(Car.objects.get()).sheet("panels"))[-1]
    assert (row.text("panel"), row.text("view")) == ("tonneau", "top")
    with pytest.raises(InputError, match="no panel of the car has"):
        _add(car, head, "roof")


def test_readings_on_panels_that_nobody_drew_hold_a_first_panel_back(
    car: Car, head: Person
) -> None:
    car.panels.all().delete()
    car.heads = {name: head for name, head in car.heads.items() if name != "panels"}
    car.save()
    with pytest.raises(InputError, match="which nobody drew"):
        _add(car, head, "tonneau")


def _add(car: Car, head: Person, name: str):
    return add_panel(
        car=car,
        panel=name,
        section="middle",
        substrate="unknown",
        view="top",
        outline_wkt="POLYGON ((0 0, 9 0, 9 6, 0 6, 0 0))",
        by=head.user,
    )
