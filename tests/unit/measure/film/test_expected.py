"""What readings are expected to tell, against cases whose answer is known."""

import numpy as np
import pytest
from shapely import box

from asfound.measure.film.expected import (
    PANEL_SHARE,
    UnmetWorks,
    entropy_bits,
    of_met_works,
    of_unmet_works,
)
from asfound.measure.film.shapes import Shapes, make_shapes


def test_a_reading_that_settles_the_verdict_tells_its_whole_entropy() -> None:
    weight, later = np.array([0.75, 0.25]), np.array([[0.0], [1.0]])
    mean, sd = np.array([[100.0, 100.0], [300.0, 100.0]]), np.full((2, 2), 1.0)
    told = of_met_works(weight, mean, sd, later)
    assert told.gain_bits[0] == pytest.approx(float(entropy_bits(np.array(0.25))), rel=0.01)
    assert told.gain_bits[1] == pytest.approx(0.0, abs=1e-9)


def test_what_agrees_by_chance_among_few_histories_is_not_promised() -> None:
    rng = np.random.default_rng(5)
    promised = []
    for _ in range(200):
        later = (rng.random((12, 1)) < 0.5).astype(float)
        mean = rng.normal(0, 50, (12, 1))
        told = of_met_works(np.full(12, 1 / 12), mean, np.full((12, 1), 1.0), later)
        promised.append(told.gain_bits[0])
    assert np.mean(promised) < 1 / 12  # r² by chance among 12 points is 1/11


def one_disc() -> tuple[Shapes, UnmetWorks]:
    made = make_shapes(box(0, 0, 1000, 800), np.empty((0, 2)))
    disc = np.array([[500.0, 400.0, 150.0, 1.0, 0.0, 0.1]])
    shapes = Shapes(disc, np.zeros(1), made.bands)
    return shapes, UnmetWorks(np.array([0.2]), np.array([0]), np.array([400.0]), np.array([1.0]))


def test_a_reading_where_an_unmet_work_would_lie_settles_it() -> None:
    shapes, works = one_disc()
    nodes = np.array([[500.0, 400.0], [520.0, 420.0], [50.0, 50.0], [900.0, 700.0]])
    told = of_unmet_works(
        works,
        shapes,
        at_mm=np.array([[500.0, 380.0], [100.0, 100.0]]),
        nodes_mm=nodes,
        sd_um=np.full(2, 5.0),
        p_later=np.zeros(4),
        p_touched=0.0,
    )
    half_of_the_nodes = 0.5 * float(entropy_bits(np.array(0.2)))
    the_panel = PANEL_SHARE * float(entropy_bits(np.array(0.2)))
    assert told.gain_bits[0] == pytest.approx(half_of_the_nodes + the_panel, rel=1e-3)
    assert told.gain_bits[1] == pytest.approx(0.0, abs=1e-3)


def test_two_readings_in_one_unmet_work_tell_the_same() -> None:
    shapes, works = one_disc()
    at = np.array([[480.0, 400.0], [520.0, 400.0], [900.0, 700.0]])
    told = of_unmet_works(
        works,
        shapes,
        at_mm=at,
        nodes_mm=at,
        sd_um=np.full(3, 5.0),
        p_later=np.zeros(3),
        p_touched=0.0,
    )
    assert told.same[0, 1] == pytest.approx(1.0, abs=1e-3)
    assert told.same[0, 2] == pytest.approx(0.0, abs=1e-3)


@pytest.mark.parametrize("p_touched", [0.0, 0.3, 1.0])
def test_a_panel_that_is_touched_already_is_settled_the_less(p_touched: float) -> None:
    shapes, works = one_disc()
    told = of_unmet_works(
        works,
        shapes,
        at_mm=np.array([[500.0, 400.0]]),
        nodes_mm=np.array([[50.0, 50.0]]),  # where the work would not lie: the panel alone speaks
        sd_um=np.array([5.0]),
        p_later=np.zeros(1),
        p_touched=p_touched,
    )
    before = entropy_bits(np.array(1 - (1 - p_touched) * 0.8))
    after = 0.8 * entropy_bits(np.array(p_touched))  # 0 where the work shows, with chance 0.2
    assert told.gain_bits[0] == pytest.approx(PANEL_SHARE * float(before - after), abs=1e-3)


def test_work_known_already_leaves_nothing_to_be_told() -> None:
    shapes, works = one_disc()
    at = np.array([[500.0, 400.0]])
    told = of_unmet_works(
        works,
        shapes,
        at_mm=at,
        nodes_mm=at,
        sd_um=np.array([5.0]),
        p_later=np.ones(1),
        p_touched=1.0,
    )
    assert told.gain_bits[0] == pytest.approx(0.0, abs=1e-3)
