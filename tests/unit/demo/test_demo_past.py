"""The invented car carries the past that was hidden in it, for whoever measures."""

from __future__ import annotations

from itertools import pairwise

import shapely
from edtf import parse_edtf
from shapely.affinity import translate

from asfound.demo import demo_folder
from asfound.record.folder import CarFolder


def _film(car: CarFolder) -> dict[str, list[float]]:
    film: dict[str, list[float]] = {}
    for row in car.sheet("film"):
        film.setdefault(row.text("panel"), []).append(row.number("thickness_um"))
    return film


def test_later_work_shows_in_the_readings() -> None:
    film = _film(demo_folder())
    undisturbed = [
        sum(readings) / len(readings)
        for panel, readings in film.items()
        if panel not in ("bonnet", "left door", "left front wing", "right rear wing")
    ]
    assert 420 < min(undisturbed) < max(undisturbed) < 550
    assert max(film["left front wing"]) < 300
    assert max(film["left door"]) > 1_200
    assert max(film["right rear wing"]) > max(undisturbed) + 80
    assert min(film["bonnet"]) < min(undisturbed) - 80


def test_one_odometer_reading_contradicts_the_others() -> None:
    readings = [row.number("reading") for row in demo_folder().sheet("odometer")]
    falls = [later < earlier for earlier, later in pairwise(readings)]
    assert sum(falls) == 1


def test_numbers_differ_from_the_build_sheet_at_the_engine_one_key_and_a_letter() -> None:
    differs = {
        row.text("kind")
        for row in demo_folder().sheet("identifiers")
        if row.text("expected") and row.text("expected") not in row.text("text_as_read")
    }
    assert differs == {"engine", "key", "gearbox"}
    gearbox = next(r for r in demo_folder().sheet("identifiers") if r.text("kind") == "gearbox")
    assert gearbox.text("text_as_read").replace("O", "0") == gearbox.text("expected")


def test_the_papers_clash_over_the_left_front_wing() -> None:
    car = demo_folder()
    events = {row.text("event"): row for row in car.sheet("events")}
    links = {row.text("from"): row.text("to") for row in car.sheet("event_links")}
    pigment, wing = "green pigment first sold", "left front wing refinished"
    letter = "letter praises the new wing"
    assert links[pigment] == wing
    assert links[wing] == letter
    first_sold = parse_edtf(events[pigment].text("not_before")).lower_strict()
    written = parse_edtf(events[letter].text("not_after")).upper_strict()
    assert first_sold > written


def test_the_power_unit_can_leave_by_the_hole() -> None:
    lift = demo_folder().lift
    assert lift is not None
    unit = shapely.from_wkt(lift["unit"]["outline_wkt"])
    obstacles = shapely.union_all(shapely.from_wkt(lift["bay"]["obstacles_wkt"]))
    x, z, _ = lift["start"]
    forward = [(x - step, z) for step in range(0, 151, 10)]
    up = [(30, height) for height in range(z, lift["out_above_z_mm"] + 1, 10)]
    for place in forward + up:
        assert translate(unit, *place).distance(obstacles) >= lift["clearance_mm"], place
    # Straight up from where it stands, the tail of the gearbox would strike the bulkhead.
    assert translate(unit, x, z + 200).intersects(obstacles)
