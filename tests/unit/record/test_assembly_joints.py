"""What came off after what goes along with a template, under the numbers of the other car."""

from __future__ import annotations

import pytest
from benchmarks.strip_car import strip_car
from tests.pages.small_car import small_car

from asfound.base import InputError
from asfound.record.actions import (
    add_parts,
    load_car,
    make_template,
    make_template_of,
    set_sheet,
    sheet_rows,
    use_template,
)
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import strip_question
from asfound.record.models import AssemblyTemplate, Car

pytestmark = pytest.mark.django_db


@pytest.fixture
def stripped() -> Car:
    return load_car(folder=strip_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]


@pytest.fixture
def other() -> Car:
    car = load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]
    add_parts(car=car, rows=[{"part": "0004", "name": "bulkhead"}], by=None)
    set_sheet(car=car, table="removals", rows=[{"part": "0004", "fragile": "2"}], by=None)
    return car


def named(car: Car) -> dict[str, str]:
    return dict(car.parts.values_list("part", "name"))


def test_a_door_of_a_stripped_car_brings_its_joints_and_nothing_of_that_car(
    stripped: Car, other: Car
) -> None:
    rows = sheet_rows(stripped, "removals")
    off = [{**row, "off_on": "2026-11-02"} for row in rows]
    set_sheet(car=stripped, table="removals", rows=off, by=None)
    door = stripped.parts.get(part="door left")
    template = make_template(part=door, name="door", by=None)
    use_template(template=template, car=other, by=None)
    names = named(other)
    assert names["0005"] == "Door left"
    there = {(names[r["part"]], names[r["comes_off_after"]]) for r in sheet_rows(other, "joints")}
    before = {
        (r["part"].capitalize(), r["comes_off_after"].capitalize())
        for r in sheet_rows(stripped, "joints")
        if "left" in r["part"] and {r["part"], r["comes_off_after"]} <= own_parts(stripped)
    }
    assert there == before
    assert ("Window glass left", "Vapour sheet left") in there
    how = {names[r["part"]]: r for r in sheet_rows(other, "removals")}
    assert how["bulkhead"]["fragile"] == "2"
    assert how["Door left"]["people"] == "2"
    assert how["Hinge pins left"]["single_use"] == "yes"
    assert not any(row.get("off_on") for row in how.values())
    assert strip_question(folder_of(other)).assembly.stuck == ()


def own_parts(car: Car) -> set[str]:
    return {"door left", *car.parts.filter(parent="door left").values_list("part", flat=True)}


def test_an_assembly_of_the_drawing_becomes_a_template(stripped: Car, other: Car) -> None:
    groups = strip_question(folder_of(stripped)).groups
    engine = [part for part, group in groups.items() if group == "engine"]
    template = make_template_of(car=stripped, parts=engine, name="four-cylinder", by=None)
    use_template(template=template, car=other, by=None)
    again = use_template(template=template, car=other, by=None)
    assert len(again) == len(engine)
    assert len(sheet_rows(other, "joints")) == 2 * template.joints_n
    known = set(named(other))
    assert all({r["part"], r["comes_off_after"]} <= known for r in sheet_rows(other, "joints"))
    with pytest.raises(InputError, match="that are there"):
        make_template_of(car=stripped, parts=["flux ring"], name="none", by=None)


def test_a_template_from_before_joints_were_kept_is_still_used(other: Car) -> None:
    rows = [
        {"part": "1", "parent": "", "name": "hinge"},
        {"part": "2", "parent": "1", "name": "pin"},
    ]
    template = AssemblyTemplate.objects.create(name="hinge", rows=rows)
    made = use_template(template=template, car=other, by=None)
    assert [part.name for part in made] == ["hinge", "pin"]
    assert sheet_rows(other, "joints") == []
