"""Stock-take: what is there, what strayed in, what is missing; written only when asked."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.record.actions import add_parts, add_place, close_count, count_place, give_tags
from asfound.record.actions.salvage import add_piece
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Entry, Part, Place
from asfound.record.reads.salvage import stock

pytestmark = pytest.mark.django_db


@pytest.fixture
def cars() -> tuple[Car, Car]:
    return Car.objects.create(slug="one"), Car.objects.create(slug="two")


@pytest.fixture
def box() -> Place:
    return add_place(name="box 4", kind="box", by=None)


def parts(car: Car, *rows: tuple[str, str]) -> list[Part]:
    cells = [{"name": name, "place": place} for name, place in rows]
    return list(add_parts(car=car, rows=cells, by=None))


def test_a_count_tells_three_kinds_and_changes_nothing(cars: tuple[Car, Car], box: Place) -> None:
    hinge, pin = parts(cars[0], ("hinge", "box 4"), ("pin", "box 4"))
    (lamp,) = parts(cars[1], ("lamp", "shelf 1"))
    found = count_place(place=box, tags=[hinge.tag, f"http://x/t/{lamp.tag}/", "NOSUCH7", ""])
    assert (found.there, found.strays, found.missing) == ((hinge,), (lamp,), (pin,))
    assert found.unknown == ("NOSUCH7",)
    lamp.refresh_from_db()
    assert lamp.place == "shelf 1"


def test_a_closed_count_moves_as_asked_and_stays_in_the_history(
    cars: tuple[Car, Car], box: Place
) -> None:
    hinge, pin = parts(cars[0], ("hinge", "box 4"), ("pin", "box 4"))
    (lamp,) = parts(cars[1], ("lamp", "shelf 1"))
    close_count(
        place=box, tags=[hinge.tag, lamp.tag], bring_strays=True, mark_missing=True, by=None
    )
    where = {part.name: part.place for part in Part.objects.all()}
    assert where == {"hinge": "box 4", "pin": "", "lamp": "box 4"}
    cars[0].refresh_from_db()
    last = list(folder_of(cars[0]).sheet("moves"))[-1]
    assert last.text("note") == "not found at stock-take in box 4"
    assert Entry.objects.filter(action="stock-take").get().after["missing"] == [["one", pin.part]]


def test_an_empty_count_marks_nothing_missing(cars: tuple[Car, Car], box: Place) -> None:
    parts(cars[0], ("hinge", "box 4"))
    with pytest.raises(InputError, match="Scan what lies there first"):
        close_count(place=box, tags=[], bring_strays=True, mark_missing=True, by=None)
    assert Part.objects.get().place == "box 4"


def test_parts_that_came_without_a_tag_get_one_and_keep_it(cars: tuple[Car, Car]) -> None:
    Part.objects.create(car=cars[0], position=0, part="P1", name="door")
    assert give_tags(car=cars[0], by=None) == 1
    tag = Part.objects.get().tag
    assert give_tags(car=cars[0], by=None) == 0
    assert tag
    assert [row.text("tag") for row in folder_of(cars[0]).sheet("parts")] == [tag]


def test_pieces_of_the_salvage_stock_are_counted_too(box: Place) -> None:
    told = {"kind": "hide", "name": "hide"}
    here = add_piece(cells={**told, "place": "box 4"}, by=None)
    away = add_piece(cells={**told, "place": "rack 1"}, by=None)
    lost = add_piece(cells={**told, "place": "box 4"}, by=None)
    tags = [here.tag, away.tag, "NOSUCH7"]
    found = count_place(place=box, tags=tags)
    assert [row.piece for row in found.pieces_there] == [here]
    assert [row.piece for row in found.pieces_strayed] == [away]
    assert [row.piece for row in found.pieces_missing] == [lost]
    assert found.unknown == ("NOSUCH7",)
    close_count(place=box, tags=tags, bring_strays=True, mark_missing=True, by=None)
    places = {row.piece: row.place for row in stock()}
    assert places == {here: "box 4", away: "box 4", lost: ""}
    before = lost.rows.exclude(superseded_by=None).get()
    assert before.reason == "not found at stock-take in box 4"
