"""What is on again: kept once, the day it came off stays, taken back, and off a second time."""

from __future__ import annotations

import pytest
from tests.pages.small_car import small_car

from asfound.base import InputError
from asfound.record.actions import (
    add_parts,
    came_off,
    load_car,
    on_again,
    set_sheet,
    sheet_rows,
    undo_came_off,
    undo_on_again,
    undo_set_sheet,
)
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import StripQuestion, strip_question
from asfound.record.models import Car

pytestmark = pytest.mark.django_db
OFF, ON, LATER = "2026-11-02", "2026-11-20", "2026-11-24"


@pytest.fixture
def car() -> Car:
    car = load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]
    names = ("grille", "radiator", "water pump", "dynamo")
    add_parts(car=car, rows=[{"part": n[0].upper(), "name": n} for n in names], by=None)
    came_off(car=car, part="R", after="G", off_on=OFF, by=None)
    came_off(car=car, part="W", after="R", off_on=OFF, by=None)
    return car


def days(car: Car, part: str) -> tuple[str, str]:
    (row,) = [r for r in sheet_rows(car, "removals") if r["part"] == part]
    return row["off_on"], row["on_again"]


def question(car: Car) -> StripQuestion:
    car.refresh_from_db()
    return strip_question(folder_of(car))


def test_it_is_on_and_the_next_can_go_on(car: Car) -> None:
    assert question(car).going_on == ("W",)
    on_again(car=car, parts=["W"], on=ON, by=None)
    assert days(car, "W") == (OFF, ON)
    assert question(car).off == {"G", "R"}
    assert question(car).going_on == ("R",)


def test_a_sub_assembly_goes_on_together(car: Car) -> None:
    rows = [
        {**row, "bench": "cooling" * (row["part"] != "G")} for row in sheet_rows(car, "removals")
    ]
    set_sheet(car=car, table="removals", rows=rows, by=None)
    assert question(car).going_on == ("cooling",)
    on_again(car=car, parts=["W", "R"], on=ON, by=None)
    assert question(car).going_on == ("G",)


def test_what_is_sent_twice_is_kept_once(car: Car) -> None:
    assert on_again(car=car, parts=["W"], on=ON, by=None, key="k1") is not None
    assert on_again(car=car, parts=["W"], on=LATER, by=None, key="k1") is None
    assert on_again(car=car, parts=["W"], on=LATER, by=None, key="k2") is None
    assert days(car, "W") == (OFF, ON)


def test_taken_back_it_is_off_as_it_was(car: Car) -> None:
    before = sheet_rows(car, "removals")
    entry = on_again(car=car, parts=["W"], on=ON, by=None)
    assert entry is not None
    undo_on_again(entry=entry, by=None)
    assert sheet_rows(car, "removals") == before
    with pytest.raises(InputError, match="still stands"):
        undo_on_again(entry=entry, by=None)


def test_off_a_second_time_and_that_taken_back(car: Car) -> None:
    on_again(car=car, parts=["W"], on=ON, by=None)
    entry = came_off(car=car, part="W", off_on=LATER, by=None)
    assert days(car, "W") == (LATER, "")
    assert "W" in question(car).off
    assert entry is not None
    undo_came_off(entry=entry, by=None)
    assert days(car, "W") == (OFF, ON)


@pytest.mark.parametrize("parts", [[], ["D"], ["X"], ["W", "D"]])
def test_what_never_came_off_is_refused_and_nothing_is_kept(car: Car, parts: list[str]) -> None:
    with pytest.raises(InputError, match="came off"):
        on_again(car=car, parts=parts, on=ON, by=None, key="k")
    assert days(car, "W") == (OFF, "")
    assert not car.arrivals.filter(key="k").exists()


def test_a_small_table_is_set_back_unless_it_changed_since(car: Car) -> None:
    first = sheet_rows(car, "joints")
    entry = set_sheet(car=car, table="joints", rows=first[:1], by=None)
    undo_set_sheet(entry=entry, by=None)
    assert sheet_rows(car, "joints") == first
    set_sheet(car=car, table="joints", rows=[], by=None)
    with pytest.raises(InputError, match="changed meanwhile"):
        undo_set_sheet(entry=entry, by=None)
    assert sheet_rows(car, "joints") == []
