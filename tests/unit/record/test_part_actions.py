"""Parts and places: numbered, tagged, moved, split, merged, replaced; never lost."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from asfound.base import InputError
from asfound.record.actions import (
    add_parts,
    add_place,
    change_part,
    lend_part,
    merge_parts,
    move_parts,
    move_place,
    plain_tag,
    replace_part,
    split_part,
    take_back_part,
    withdraw_part,
    withdraw_place,
)
from asfound.record.convert.stored import folder_of
from asfound.record.log import check_chain
from asfound.record.models import Car, Part

pytestmark = pytest.mark.django_db


@pytest.fixture
def car() -> Car:
    return Car.objects.create(slug="car", heads={})


@pytest.fixture
def door(car: Car) -> Part:
    (door,) = add_parts(car=car, rows=[{"name": "door, left", "place": "shelf 3"}], by=None)
    return door


def moves(car: Car) -> list[tuple[str, str, str]]:
    names = ("part", "from_place", "to_place")
    return [tuple(row.text(n) for n in names) for row in folder_of(car).sheet("moves")]  # type: ignore[misc]


def test_a_name_is_enough_the_number_and_tag_come_by_themselves(car: Car, door: Part) -> None:
    (hinge,) = add_parts(car=car, rows=[{"name": "hinge", "parent": door.part}], by=None)
    assert (door.part, hinge.part) == ("0001", "0002")
    assert len({door.tag, hinge.tag}) == 2
    assert plain_tag(f"http://here/t/{door.tag.lower()}") == door.tag
    assert [row.text("part") for row in folder_of(car).sheet("parts")] == ["0001", "0002"]


def test_what_a_phone_sends_twice_is_one_part(car: Car) -> None:
    for _ in range(2):
        add_parts(car=car, rows=[{"name": "lamp"}], by=None, key="one")
    assert car.parts.count() == 1


def test_all_rows_come_in_or_none(car: Car) -> None:
    with pytest.raises(InputError, match="what the part is called"):
        add_parts(car=car, rows=[{"name": "lamp"}, {"name": " "}], by=None)
    with pytest.raises(InputError, match="part of this car"):
        add_parts(car=car, rows=[{"name": "bulb", "parent": "9"}], by=None)
    with pytest.raises(InputError, match="no other part"):
        add_parts(car=car, rows=[{"part": "1", "name": "a"}, {"part": "1", "name": "b"}], by=None)
    assert car.parts.count() == 0


def test_every_move_is_remembered(car: Car, door: Part) -> None:
    assert move_parts(parts=[door], to_place="paint shop", by=None) == 1
    door.refresh_from_db()
    assert door.place == "paint shop"
    assert moves(car) == [("0001", "", "shelf 3"), ("0001", "shelf 3", "paint shop")]
    assert check_chain().broken is None


def test_a_change_by_somebody_else_is_not_overwritten(door: Part) -> None:
    change_part(part=door, cells={"note": "dent"}, seen={"note": ""}, by=None)
    with pytest.raises(InputError, match="changed meanwhile"):
        change_part(part=door, cells={"note": "rust"}, seen={"note": ""}, by=None)
    with pytest.raises(InputError, match="its own action"):
        change_part(part=door, cells={"place": "shelf 4"}, by=None)


def test_a_part_never_lies_within_itself(car: Car, door: Part) -> None:
    (hinge,) = add_parts(car=car, rows=[{"name": "hinge", "parent": door.part}], by=None)
    with pytest.raises(InputError, match="not within this one"):
        change_part(part=door, cells={"parent": hinge.part}, by=None)


def test_split_merged_and_replaced_parts_stay_with_what_followed(car: Car, door: Part) -> None:
    skin, frame = split_part(part=door, names=["skin", "frame"], reason="spot welds cut", by=None)
    one = merge_parts(parts=[skin, frame], name="door, left", reason="welded again", by=None)
    new = replace_part(part=one, name="door", reason="beyond repair", source="breaker", by=None)
    fates = {row.text("part"): row.text("fate") for row in folder_of(car).sheet("parts")}
    assert fates == {
        "0001": "split",
        "0002": "merged",
        "0003": "merged",
        "0004": "replaced",
        "0005": "",
    }
    door.refresh_from_db()
    assert (door.followed_by, skin.place, new.borrowed_from) == ("0002;0003", "shelf 3", "breaker")
    with pytest.raises(InputError, match="a part that is there"):
        split_part(part=door, names=["a", "b"], reason="again", by=None)
    with pytest.raises(InputError, match="still there"):
        move_parts(parts=[door], to_place="bin", by=None)


def test_only_a_part_without_parts_is_withdrawn_and_with_a_reason(car: Car, door: Part) -> None:
    (hinge,) = add_parts(car=car, rows=[{"name": "hinge", "parent": door.part}], by=None)
    with pytest.raises(InputError, match="another parent first"):
        withdraw_part(part=door, reason="entered twice", by=None)
    with pytest.raises(InputError, match="in a few words"):
        withdraw_part(part=hinge, reason="", by=None)
    withdraw_part(part=hinge, reason="entered twice", by=None)
    withdraw_part(part=door, reason="entered twice", by=None)
    assert car.parts.current().count() == 0
    assert car.parts.count() == 2


def test_a_lent_part_comes_home(door: Part) -> None:
    other = Car.objects.create(slug="other")
    lend_part(part=door, to_car=other, reason="to try the fit", by=None)
    assert door.lent_to == "other: to try the fit"
    with pytest.raises(InputError, match="at home"):
        lend_part(part=door, to_car=other, reason="again", by=None)
    take_back_part(part=door, by=None)
    assert door.lent_to == ""


def test_places_lie_in_one_another_and_go_only_when_empty(car: Car, door: Part) -> None:
    room = add_place(name="store", kind="room", by=None)
    shelf = add_place(name="shelf 3", kind="shelf", within=room, by=None)
    with pytest.raises(InputError, match="outside this one"):
        move_place(place=room, within=shelf, by=None)
    for place in (room, shelf):
        with pytest.raises(InputError, match="Move what is in it first"):
            withdraw_place(place=place, reason="sold", by=None)
    move_parts(parts=[door], to_place="", by=None)
    withdraw_place(place=shelf, reason="sold", by=None)
    withdraw_place(place=room, reason="sold", by=None)
    with pytest.raises(InputError, match="not withdrawn"):
        move_place(place=shelf, within=None, by=None)


@pytest.mark.parametrize("count", [2, 60])
def test_many_parts_take_no_more_questions_than_two(car: Car, count: int) -> None:
    rows = [{"name": f"bolt {n}", "place": "box"} for n in range(count)]
    with CaptureQueriesContext(connection) as asked:
        made = add_parts(car=car, rows=rows, by=None)
    assert len({part.tag for part in made}) == count
    assert len(asked) < 40
