"""The feather of a work: how far a spot in it counts as worked on, and the bands along edges."""

from __future__ import annotations

import numpy as np
import pytest
from benchmarks.other_cars import make_other_car
from shapely import Point, box

from asfound.measure.film import priors, read_film
from asfound.measure.film.shapes import BAND_FALLS, BAND_WIDTHS_MM, make_shapes


def test_a_feather_counts_in_part() -> None:
    told = priors.covered(np.array([0.0, 0.25, 0.45, 0.65, 1.0]))
    assert told == pytest.approx([0.0, 0.0, 0.5, 1.0, 1.0])


def test_every_band_is_half_as_deep_at_its_width_and_falls_off_there() -> None:
    shapes = make_shapes(box(0, 0, 2000, 2000), np.empty((0, 2)))
    assert len(shapes.bands) == 5 * len(BAND_WIDTHS_MM) * len(BAND_FALLS)
    for row, (edge, width, fall) in enumerate(shapes.bands, start=shapes.ellipses_n):
        away = np.array([1 - 1.01 * fall, 1.0, 1 + 1.01 * fall]) * width
        at = np.column_stack([np.full(3, 1000.0), away])
        at = at if edge.distance(Point(1000, 0)) == 0 else _turned(at, edge)
        assert shapes.at(at, np.array([row]))[0] == pytest.approx([1.0, 0.5, 0.0])


def _turned(at: np.ndarray, edge: object) -> np.ndarray:
    """The same places seen from the side of the square on which ``edge`` lies."""
    across, away = at.T
    sides = [(away, across), (2000 - away, across), (across, 2000 - away)]
    return next(
        np.column_stack(side)
        for side in sides
        if np.allclose([edge.distance(Point(p)) for p in zip(*side, strict=True)], away)
    )


def test_spots_in_the_feather_of_a_polished_edge_are_told_as_doubtful() -> None:
    # A car of the second generator: film is polished off all round panel p01, half of that at about
    # 68 mm from the edge, by the generator's own truth.
    car = make_other_car(620_012)
    panel = next(p for p in read_film(car.survey).panels if p.panel == "p01")
    outline = next(p.outline for p in car.survey.panels if p.panel == "p01")
    away = np.array([outline.exterior.distance(Point(s.x_mm, s.y_mm)) for s in panel.spots])
    p = np.array([s.p_later_work for s in panel.spots])
    true = np.array([car.truth["p01"].later[int(s.spot) - 1] for s in panel.spots])
    assert p[away < 50].min() > 0.9
    assert p[away > 95].max() < 0.1
    assert ((p - true) ** 2).mean() < 0.15  # 0.42 while a feather counted wholly or not at all
