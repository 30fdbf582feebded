"""Ellipses that move freely: their coordinates, and how close they come to a work that is known."""

from __future__ import annotations

import numpy as np
import pytest
from shapely import Point, box

from asfound.measure.film import FilmSurvey, Panel, Reading, read_film
from asfound.measure.film.ellipses import Box, ellipses_at


def test_coordinates_lead_back_to_their_ellipse() -> None:
    rng = np.random.default_rng(1)
    even = rng.random((50, 6))
    at = Box.within(np.column_stack([1000 * even[:, :2], 4 + 1.9 * even[:, 2], even[:, 3:]]))
    assert Box.coordinates(Box.ellipses(at)) == pytest.approx(at)


def test_what_leaves_the_box_is_mirrored_at_its_walls_and_a_turn_goes_round() -> None:
    at = np.array([[3.0, 4.0, np.log(380.0) + 0.1, 1.2, 1.1, -0.3]])
    assert Box.within(at)[0] == pytest.approx([3, 4, np.log(380.0) - 0.1, 0.8, 0.1, 0.3])


def test_an_ellipse_is_half_as_high_at_its_edge() -> None:
    ellipse = np.array([[100.0, 50.0, 80.0, 2.0, 0.0, 0.25]])
    points = np.array([[100.0, 50.0], [180.0, 50.0], [100.0, 90.0], [201.0, 50.0]])
    assert ellipses_at(ellipse, points)[0] == pytest.approx([1.0, 0.5, 0.5, 0.0])


def test_the_outline_of_a_known_disc_lies_close_to_it() -> None:
    # A disc of 210 mm that adds 100 µm with a feather of 40 mm to either side, read every
    # 100 mm on a finish of 200 µm that is uneven by 3 µm.
    rng, middle = np.random.default_rng(4), np.array([480.0, 370.0])
    x, y = np.meshgrid(np.arange(50, 1000, 100), np.arange(50, 800, 100))
    at = np.column_stack([x.ravel(), y.ravel()]).astype(float)
    away = np.hypot(*(at - middle).T)
    disc = 100 * np.clip((250 - away) / 80, 0, 1)
    readings = [
        Reading(panel=panel, spot=str(i), x_mm=p[0], y_mm=p[1], thickness_um=um, gauge="g")
        for panel in ("a", "b", "c", "worked on")
        for i, (p, um) in enumerate(
            zip(at, 200 + 3 * rng.normal(size=len(at)) + disc * (panel == "worked on"), strict=True)
        )
    ]
    panels = tuple(
        Panel(panel=p, outline=box(0, 0, 1000, 800), substrate="steel")
        for p in ("a", "b", "c", "worked on")
    )
    told = read_film(FilmSurvey(panels=panels, readings=tuple(readings), shims=()))
    assert [len(p.areas) for p in told.panels] == [0, 0, 0, 1]
    true, drawn = Point(*middle).buffer(210), told.panels[3].areas[0].outline
    assert true.intersection(drawn).area / true.union(drawn).area > 0.85
