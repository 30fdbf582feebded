"""Parts, photographs, moves and errands come back as they were, and only when asked for."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from asfound.record.actions import load_car
from asfound.record.convert.stored import folder_of, whole
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car

pytestmark = pytest.mark.django_db

PARTS = Sheet(
    columns=("part", "name", "place", "mass_kg", "safety", "fate", "followed_by", "own"),
    rows=(
        ("P1", "door, left", "shelf 3", "24.5", "no", "split", "P2;P3", "x"),
        ("P2", "door skin", "", "", "", "", "", ""),
        ("P3", "door frame", "", "", "yes", "", "", ""),
    ),
)
MOVES = Sheet(
    columns=("part", "from_place", "to_place", "moved_at", "by"),
    rows=(("P1", "", "shelf 3", "2031-05-04T10:00Z", "trimmer"),),
)
CAR = Sheet(
    columns=("marque", "model", "body_style", "built"), rows=(("Invented", "One", "van", "1931"),)
)
FOLDER = CarFolder(sheets={"car": CAR, "parts": PARTS, "moves": MOVES})


@pytest.fixture
def car() -> Car:
    return load_car(folder=FOLDER, by=None)


def test_parts_and_their_moves_come_back_equal(car: Car) -> None:
    assert folder_of(car) == FOLDER
    assert car.parts.current().count() == 2


def test_a_table_is_read_when_it_is_asked_for(car: Car) -> None:
    folder = folder_of(car)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        folder.sheet("parts")
    assert [sorted({"part", "photo", "film"} & set(q["sql"].split('"'))) for q in asked] == [
        ["part"]
    ]


def test_who_changes_the_car_takes_the_whole_of_it_first(car: Car) -> None:
    kept = whole(folder_of(car))
    car.parts.all().delete()
    assert kept.sheet("parts") == PARTS
