"""What is kept from one reading of a finish to the next never changes the answer."""

from __future__ import annotations

import numpy as np
from benchmarks.cars import make_car
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.measure.film import FilmReading, FilmSurvey, car_level, panel_read, read_film


def forget() -> None:
    for kept in (
        panel_read.make_case,
        panel_read.read_panel,
        car_level._habits_evidence,
        car_level._levels_evidence,
    ):
        kept.cache_clear()


def told(reading: FilmReading) -> list[object]:
    surfaces = [
        np.nan_to_num(field, nan=-1.0).tobytes()
        for p in reading.panels
        for field in (p.surface.film_um, p.surface.u_um, p.surface.p_later_work)
    ]
    panels = [(p.p_later_work, p.lr_later_work, p.kinds, p.spots, p.areas) for p in reading.panels]
    return [reading.level_um, reading.gauges, reading.next_spots, *panels, *surfaces]


@settings(max_examples=4, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10_000), late_n=st.integers(1, 3))
def test_readings_added_one_by_one_give_the_answer_of_a_fresh_reading(
    seed: int, late_n: int
) -> None:
    survey = make_car(seed, panels_n=4, touched=0.5).survey
    forget()
    for left_out in range(3 * late_n, -1, -3):
        rows = survey.readings[: len(survey.readings) - left_out]
        grown = read_film(FilmSurvey(panels=survey.panels, readings=rows, shims=survey.shims))
    forget()
    assert told(grown) == told(read_film(survey))


def test_a_reading_in_hand_cannot_be_spoilt_for_the_next() -> None:
    reading = read_film(make_car(3, panels_n=2).survey)
    assert not any(p.surface.film_um.flags.writeable for p in reading.panels)
