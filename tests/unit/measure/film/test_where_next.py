"""Which crosses are set, and in which order, against batches whose best choice is plain."""

import numpy as np
import pytest
import shapely
from numpy.typing import ArrayLike

from asfound.measure.film import FilmSurvey, Panel, Reading, read_film
from asfound.measure.film.where_next import Candidates, choose_next


def places(panel: str, at: ArrayLike, gain: ArrayLike) -> Candidates:
    """Candidates of which none tells what another tells."""
    points, met = np.asarray(at, float).reshape(-1, 2), np.asarray(gain, float)
    same = np.broadcast_to(np.eye(len(points)), (2, len(points), len(points)))
    return Candidates(panel, points, np.array([met, np.zeros(len(points))]), same)


def test_crosses_are_numbered_as_one_walks() -> None:
    door = places("door", [[0, 0], [900, 0], [100, 0], [500, 0]], [0.9, 0.7, 0.3, 0.4])
    roof = places("roof", [[0, 0], [0, 300]], [0.5, 0.8])
    chosen = choose_next([door, roof], count=6)
    assert [(s.panel, s.x_mm, s.y_mm) for s in chosen] == [
        ("door", 0, 0),
        ("door", 100, 0),
        ("door", 500, 0),
        ("door", 900, 0),
        ("roof", 0, 300),
        ("roof", 0, 0),
    ]
    assert [s.gain_bits for s in chosen] == pytest.approx([0.9, 0.3, 0.4, 0.7, 0.8, 0.5])


def test_the_most_telling_are_chosen_before_they_are_put_in_order() -> None:
    door = places("door", [[0, 0], [100, 0], [900, 0]], [0.9, 0.2, 0.7])
    assert [s.x_mm for s in choose_next([door], count=2)] == [0, 900]


def test_no_two_crosses_of_a_batch_are_one_spot() -> None:
    door = places("door", [[0, 0], [39, 0], [0, 41], [500, 0]], [0.9, 0.8, 0.7, 0.1])
    chosen = choose_next([places("sill", [], []), door], count=8)
    assert [(s.x_mm, s.y_mm) for s in chosen] == [(0, 0), (0, 41), (500, 0)]


def test_a_place_is_worth_what_the_chosen_ones_left_untold() -> None:
    alike = places("door", [[0, 0], [200, 0]], [0.9, 0.8])
    same = np.array([[[1.0, 0.5], [0.5, 1.0]]] * 2)
    alike = Candidates(alike.panel, alike.points_mm, alike.gain_bits, same)
    chosen = choose_next([alike, places("roof", [[0, 0]], [0.6])], count=2)
    assert [s.panel for s in chosen] == ["door", "roof"]


def test_crosses_keep_off_the_rim_of_an_opening() -> None:
    window = shapely.box(300, 200, 700, 450)
    door = Panel(panel="door", outline=shapely.box(0, 0, 1000, 600).difference(window))
    readings = tuple(
        Reading(panel="door", spot=str(i), x_mm=x, y_mm=y, thickness_um=120.0, gauge="a")
        for i, (x, y) in enumerate([(100, 100), (900, 100), (100, 500), (900, 500)])
    )
    chosen = read_film(FilmSurvey(panels=(door,), readings=readings), next_spots_n=40).next_spots
    assert len(chosen) > 10
    # A hair less than a probe's width, as the places lie on a grid of floating-point numbers.
    assert all(window.distance(shapely.Point(s.x_mm, s.y_mm)) > 24.99 for s in chosen)
