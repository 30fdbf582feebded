"""The invented bonnet and doors say what was put into them."""

from __future__ import annotations

import pytest

from asfound.demo import demo_folder
from asfound.record.derived import gaps_reading, polish_reading
from asfound.record.folder import CarFolder


@pytest.fixture(scope="module")
def car() -> CarFolder:
    return demo_folder()


def test_the_front_edge_is_the_thin_place_and_its_floor_a_guess(car: CarFolder) -> None:
    result = polish_reading(car)
    edge, rest = (
        next(a for a in result.areas if (a.panel, a.area) == ("bonnet", area))
        for area in ("front edge", "")
    )
    assert edge.floor is not None
    assert edge.floor.floor.basis == "guess"
    assert rest.floor is not None
    assert rest.floor.floor.basis == "measured"
    thin, thick = (min(s.present.film_um.value for s in a.spots) for a in (edge, rest))
    assert thin < thick - 30


def test_a_pass_by_machine_takes_what_was_put_in(car: CarFolder) -> None:
    (machine,) = (r for r in polish_reading(car).pooled if r.process.startswith("rotary"))
    rate = machine.removal.per_pass_um
    # Put in: 2.3 µm shown by a gauge of slope 1.021.
    assert abs(rate.value - 2.3 / 1.021) < rate.expanded(coverage=0.99)
    assert machine.removal.told_apart


def test_the_dropped_door_runs_out_and_does_not_mirror(car: CarFolder) -> None:
    result = gaps_reading(car)
    tapers = {e.ground.edge: e.fit.gap.tapers for e in result.edges if e.fit}
    assert tapers["left door, rear"]
    assert not tapers["right door, rear"]
    (pair,) = (t.pair for t in result.twins if t.left == "left door, rear")
    assert pair is not None
    assert pair.gap_run_out.p < 0.01
    assert pair.gap_run_out.difference_mm.value == pytest.approx(2.2, abs=0.7)
    assert not any(e.u_is_assumed for e in result.edges if e.readings)


def test_readings_follow_the_seed_and_edges_do_not(car: CarFolder) -> None:
    other = demo_folder(2)
    assert other.sheet("gaps") != car.sheet("gaps")
    assert other.sheet("polish") != car.sheet("polish")
    assert other.sheet("edges") == car.sheet("edges")
