"""The invented car: whole, valid, the same each time, and marked as invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from asfound.demo import demo_folder, write
from asfound.exchange import read_folder
from asfound.record.actions import EDITED_WHOLE
from asfound.record.folder import CarFolder
from asfound.record.models.observation import OBSERVED
from asfound.record.tables import TABLES

INVENTED_PEOPLE = {"Wenna Tolk", "Bram Ostler", "Issy Corrand", "Dav Pellory", "Joss Ferrant"}
TREATMENT_TERMS = {
    "leave as found",
    "preventive care",
    "clean",
    "stabilise",
    "repair",
    "overhaul",
    "reinstate",
    "reintegrate",
    "refinish",
    "replace with period part",
    "replace with new",
    "adapt",
}
STATES = {"original and in place", "period", "later", "reproduction", "undetermined", "missing"}
LIFE_BEARING = ("brakes", "steering", "fuel", "tyres")


@pytest.fixture(scope="module")
def car() -> CarFolder:
    return demo_folder()


def test_what_is_written_is_read_back_equal(car: CarFolder, tmp_path: Path) -> None:
    write(tmp_path / "car")
    assert read_folder(tmp_path / "car") == car


def test_every_table_of_the_first_day_is_there(car: CarFolder) -> None:
    later = {"photos", "moves", "errands", "locks", "in_shop", *OBSERVED, *EDITED_WHOLE} - {
        "metal",
        "colour",
        "findings",
    }
    assert set(TABLES) - later <= set(car.sheets)


def test_a_seed_gives_the_same_car_and_another_seed_another() -> None:
    assert demo_folder(7) == demo_folder(7)
    assert demo_folder(7).sheet("film") != demo_folder(8).sheet("film")
    assert demo_folder(7).sheet("panels") == demo_folder(8).sheet("panels")


def test_it_is_large_enough_to_chew_on(car: CarFolder) -> None:
    assert len(car.sheet("panels")) >= 13
    assert len(car.sheet("film")) >= 350
    assert len(car.sheet("parts")) >= 60
    assert len(car.sheet("subjects")) >= 60
    options: dict[str, int] = {}
    for row in car.sheet("options"):
        options[row.text("subject")] = options.get(row.text("subject"), 0) + 1
    assert set(options) == {row.text("subject") for row in car.sheet("subjects")}
    assert set(options.values()) <= {3, 4, 5, 6}


def test_three_readings_a_spot_by_two_gauges_with_shims(car: CarFolder) -> None:
    spots: dict[tuple[str, str], list[str]] = {}
    for row in car.sheet("film"):
        spots.setdefault((row.text("panel"), row.text("spot")), []).append(row.text("gauge"))
    assert {len(gauges) for gauges in spots.values()} == {3}
    assert {gauge for gauges in spots.values() for gauge in gauges} == {"gauge 1", "gauge 2"}
    assert {row.text("gauge") for row in car.sheet("shims")} == {"gauge 1", "gauge 2"}
    assert any(row.number("nominal_um") == 0 for row in car.sheet("shims"))


def test_words_are_those_of_the_vocabulary(car: CarFolder) -> None:
    assert {row.text("treatment") for row in car.sheet("options")} == TREATMENT_TERMS
    assert {row.text("state") for row in car.sheet("parts")} == STATES


def test_nothing_that_can_kill_may_be_left_as_found(car: CarFolder) -> None:
    life_bearing = {
        row.text("part") for row in car.sheet("parts") if row.text("note").startswith(LIFE_BEARING)
    }
    left = [
        row
        for row in car.sheet("options")
        if row.text("treatment") == "leave as found" and row.text("subject") in life_bearing
    ]
    assert len(left) >= 8
    unsafe = {row.text("subject") for row in left if not row.flag("safe", default=True)}
    # Carburettors can be left where they are: the engine will not start on them.
    assert {row.text("subject") for row in left} - unsafe <= {"carburettors"}


def test_invented_is_said_and_only_invented_people_appear(car: CarFolder) -> None:
    assert car.package["invented"] is True
    assert "invented" in car.package["note"]
    assert "invented" in next(iter(car.sheet("car"))).text("note")
    assert {row.text("note") for row in car.sheet("people")} == {"invented person"}
    named = {
        row.text(column)
        for sheet in car.sheets.values()
        for column in ("by", "read_by", "found_by", "person")
        for row in sheet
        if row.text(column)
    }
    assert named == INVENTED_PEOPLE


def test_subjects_and_parents_are_pieces_of_the_car(car: CarFolder) -> None:
    pieces = {row.text("part") for row in car.sheet("parts")}
    pieces |= {row.text("panel") for row in car.sheet("panels")}
    for table in ("subjects", "tasks", "evidence", "events"):
        assert {row.text("subject") for row in car.sheet(table)} <= pieces, table
