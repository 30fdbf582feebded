"""What came off after what: kept once, taken back whole, nothing else touched."""

from __future__ import annotations

import pytest
from tests.pages.small_car import small_car

from asfound.base import InputError
from asfound.record.actions import (
    add_parts,
    came_off,
    load_car,
    set_sheet,
    sheet_rows,
    undo_came_off,
)
from asfound.record.models import Car
from asfound.record.reads.strip import offered_while_stripping

pytestmark = pytest.mark.django_db
DAY = "2026-11-02"


@pytest.fixture
def car() -> Car:
    car = load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]
    names = ("grille", "radiator", "water pump", "dynamo")
    add_parts(car=car, rows=[{"part": n[0].upper(), "name": n} for n in names], by=None)
    set_sheet(
        car=car, table="removals", rows=[{"part": "R", "fragile": "3", "bench": "cooling"}], by=None
    )
    return car


def joints(car: Car) -> list[tuple[str, str]]:
    return [(row["part"], row["comes_off_after"]) for row in sheet_rows(car, "joints")]


def off(car: Car) -> dict[str, str]:
    return {r["part"]: r["off_on"] for r in sheet_rows(car, "removals") if r.get("off_on")}


def test_a_part_and_what_held_it_are_off_and_joined(car: Car) -> None:
    came_off(car=car, part="R", after="G", because="hidden by it", off_on=DAY, by=None)
    assert joints(car) == [("R", "G")]
    assert off(car) == {"R": DAY, "G": DAY}
    (row,) = [r for r in sheet_rows(car, "removals") if r["part"] == "R"]
    assert (row["fragile"], row["bench"]) == ("3", "cooling")
    came_off(car=car, part="W", after="R", off_on="2026-11-03", by=None)
    assert off(car)["R"] == DAY  # it came off before
    assert [one.part for one in offered_while_stripping(car)] == ["W", "R", "G", "D"]


def test_what_is_sent_twice_is_kept_once(car: Car) -> None:
    assert came_off(car=car, part="R", after="G", off_on=DAY, by=None, key="k1") is not None
    assert came_off(car=car, part="R", after="G", off_on=DAY, by=None, key="k1") is None
    came_off(car=car, part="R", after="G", off_on=DAY, by=None, key="k2")
    assert joints(car) == [("R", "G")]


def test_taken_back_all_is_as_before(car: Car) -> None:
    came_off(car=car, part="D", off_on=DAY, by=None)
    before = (joints(car), sheet_rows(car, "removals"))
    entry = came_off(car=car, part="R", after="G", off_on=DAY, by=None)
    assert entry is not None
    undo_came_off(entry=entry, by=None)
    assert (joints(car), sheet_rows(car, "removals")) == before
    with pytest.raises(InputError, match="still stands"):
        undo_came_off(entry=entry, by=None)


@pytest.mark.parametrize(("part", "after"), [("X", "G"), ("R", "X"), ("R", "R"), ("", "G")])
def test_a_part_that_is_none_and_one_that_held_itself_are_refused(
    car: Car, part: str, after: str
) -> None:
    with pytest.raises(InputError):
        came_off(car=car, part=part, after=after, off_on=DAY, by=None, key="k")
    assert joints(car) == []
    assert off(car) == {}
    assert not car.arrivals.exists()
