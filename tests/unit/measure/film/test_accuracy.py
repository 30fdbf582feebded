"""The reading against invented cars whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest
from benchmarks.cars import make_car
from benchmarks.scores import figures, gather

from asfound.measure.film import read_film

# Few cars, so the floors lie below the targets that benchmarks/film.py reports on many.
CARS_N = 10


@pytest.fixture(scope="module")
def told() -> dict[str, float]:
    cars = [make_car(50_000 + i, panels_n=10) for i in range(CARS_N)]
    return figures(gather(cars, lambda car: read_film(car.survey)))


def test_spots_with_later_work_come_first(told: dict[str, float]) -> None:
    assert told["spot average precision"] > 0.94
    assert told["panel AUC"] > 0.93


def test_probabilities_mean_what_they_say(told: dict[str, float]) -> None:
    assert told["spot Brier"] < 0.025
    assert told["spot calibration error"] < 0.04


def test_outlines_lie_where_the_work_is(told: dict[str, float]) -> None:
    assert told["mean IoU, best match"] > 0.35


@pytest.mark.common_practice
@pytest.mark.parametrize("level_um", [180.0, 550.0], ids=["modern works", "hand finish"])
def test_a_fresh_survey_is_read_as_undisturbed(level_um: float) -> None:
    # Common practice, no source: about 180 µm at most leaves a modern works, about 550 µm in
    # all is usual on a hand-finished car of the 1960s. Each is held against its own car.
    for seed in range(3):
        car = make_car(60_000 + seed, level_um=level_um, touched=0.0)
        reading = read_film(car.survey)
        assert reading.level_um.value == pytest.approx(level_um, rel=0.1)
        p = [s.p_later_work for panel in reading.panels for s in panel.spots]
        assert float(np.mean(p)) < 0.06
        assert sum(panel.p_later_work > 0.5 for panel in reading.panels) == 0


def test_half_of_the_panels_refinished_does_not_mislead() -> None:
    car = make_car(70_001, level_um=120.0, touched=0.5, panels_n=14)
    reading = read_film(car.survey)
    assert reading.level_um.value == pytest.approx(120.0, rel=0.08)
