"""What occurs at a spot occurs on its panel, so that both say the same kind of later work."""

from __future__ import annotations

from benchmarks.cars import make_car

from asfound.measure.film import read_film


def test_a_panel_is_at_least_as_likely_to_carry_a_kind_as_any_of_its_spots() -> None:
    named = 0
    for seed in (71, 72, 73):
        for panel in read_film(make_car(seed).survey, next_spots_n=0).panels:
            for spot in panel.spots:
                named += spot.p_later_work > 0.5
                for kind, p in spot.kinds.items():
                    assert panel.kinds[kind] >= p
    assert named
