"""Search: every word counts, beginnings are enough, what is gone is not found."""

from __future__ import annotations

import pytest

from asfound.record.actions import (
    add_observations,
    add_parts,
    add_place,
    change_part,
    create_account,
    grant_owner,
    move_parts,
    release_room,
    withdraw_observation,
    withdraw_part,
    withdraw_place,
)
from asfound.record.models import Car, Person
from asfound.record.reads.search import Found, search

pytestmark = pytest.mark.django_db


@pytest.fixture
def head() -> Person:
    return create_account(username="head", role="head", password="walnut-veneer-41", by=None)


@pytest.fixture
def car() -> Car:
    car = Car.objects.create(slug="car")
    rows = [
        {"name": "Door hinge, upper left", "place": "Box 4"},
        {"name": "Türgriff", "place": "shelf 2"},
        {"name": "hinge pin"},
    ]
    add_parts(car=car, rows=rows, by=None)
    return car


def names(found: Found) -> list[str]:
    return [part.name for part in found.parts]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("hinge", {"Door hinge, upper left", "hinge pin"}),
        ("hin up", {"Door hinge, upper left"}),
        ("left box", {"Door hinge, upper left"}),
        ("turgriff", {"Türgriff"}),
        ("TÜR", {"Türgriff"}),
        ("hinge shelf", set()),
        ('"*(', set()),
        ("NEAR OR hinge", set()),
        ("", set()),
    ],
)
def test_every_word_must_stand_there_or_begin_so(
    car: Car, head: Person, words: str, expected: set[str]
) -> None:
    assert set(names(search(words, by=head.user))) == expected


def test_a_title_goes_before_a_note(car: Car, head: Person) -> None:
    add_parts(car=car, rows=[{"name": "lamp", "note": "stood beside the pin"}], by=None)
    assert names(search("pin", by=head.user))[0] == "hinge pin"


def test_a_name_is_found_however_many_notes_have_the_word(
    car: Car, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("asfound.record.reads.search._RANKED", 5)
    noted = [{"name": f"clip {n}", "note": "beside the pinion"} for n in range(20)]
    add_parts(car=car, rows=[*noted, {"name": "pinion"}], by=None)
    found = names(search("pini", by=head.user))
    assert found[0] == "pinion"
    assert len(found) == 1 + 5, "of the notes, as many as are ranked"


def test_a_single_letter_or_digit_stands_for_itself(car: Car, head: Person) -> None:
    add_parts(car=car, rows=[{"name": "lamp", "place": "Box 41"}], by=None)
    assert names(search("box 4", by=head.user)) == ["Door hinge, upper left"]
    assert names(search("box 41", by=head.user)) == ["lamp"]


def test_what_changes_is_found_as_it_is_now(car: Car, head: Person) -> None:
    hinge = car.parts.get(name__startswith="Door")
    move_parts(parts=[hinge], to_place="paint shop", by=None)
    assert names(search("paint", by=head.user)) == [hinge.name]
    assert not search("hinge box", by=head.user).parts
    hinge.refresh_from_db()
    change_part(part=hinge, cells={"name": "Scharnier"}, by=None)
    assert names(search("scharn", by=head.user)) == ["Scharnier"]
    withdraw_part(part=hinge, reason="twice", by=None)
    assert not search("scharn", by=head.user).parts


def test_places_and_findings_are_found_and_go_when_withdrawn(car: Car, head: Person) -> None:
    box = add_place(name="crate nine", kind="box", by=None)
    cells = {"subject": "sill", "kind": "corrosion", "extent": "2 cm", "severity": "3"}
    (found,) = add_observations(car=car, table="findings", rows=[cells], by=None)
    moved = {"part": "0001", "from_place": "", "to_place": "corrosion bath", "moved_at": "2031"}
    add_observations(car=car, table="moves", rows=[moved], by=None)
    assert search("crate nine", by=head.user).places == (box,)
    assert search("corros sill", by=head.user).findings == (found,)
    assert search("corrosion bath", by=head.user).count == 0
    withdraw_place(place=box, reason="broken", by=None)
    withdraw_observation(observation=found, reason="dirt", by=None)
    assert search("crate nine", by=head.user).count == 0
    assert search("corros", by=head.user).count == 0


def test_an_owner_finds_what_is_on_their_car_and_no_place(car: Car) -> None:
    owner = create_account(username="own", role="owner", password="walnut-veneer-41", by=None)
    add_place(name="hinge box", kind="box", by=None)
    assert search("hinge", by=owner.user).count == 0
    grant_owner(car=car, owner=owner, by=None)
    assert search("hinge", by=owner.user).count == 0, "the register is not released"
    release_room(car=car, room="parts", by=None)
    found = search("hinge", by=owner.user)
    assert (len(found.parts), len(found.places)) == (2, 0)


def test_more_than_is_shown_is_said(car: Car, head: Person) -> None:
    add_parts(car=car, rows=[{"name": f"bolt {n}"} for n in range(70)], by=None)
    found = search("bolt", by=head.user)
    assert (found.count, found.more) == (60, True)
