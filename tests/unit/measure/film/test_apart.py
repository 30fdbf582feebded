"""Works that touch are told apart, and works upon works are not."""

from __future__ import annotations

import numpy as np
import pytest
from shapely import Point, box

from asfound.measure.film import FilmSurvey, Panel, Reading, read_film
from asfound.measure.film.apart import expected_overlap, one_by_one, put_together

EVEN = np.full(4, 0.25)


def row(*places: int) -> np.ndarray:
    return np.isin(np.arange(10), places)


def test_works_get_the_same_number_in_whatever_order_a_history_holds_them() -> None:
    left, right, none = row(0, 1, 2, 3), row(5, 6, 7, 8), row()
    works = np.array([[left, right, none], [right, none, left], [none, left, right]])
    works = np.concatenate([works, [[none, row(5, 6, 7), left]]])
    (maps,) = one_by_one(works, EVEN)
    maps = maps[np.argsort([m.argmax() for m in maps])]
    assert maps[0] == pytest.approx(left.astype(float))
    assert maps[1] == pytest.approx(np.where(row(8), 0.75, right))


def test_a_work_within_another_is_not_told_apart() -> None:
    works = put_together(np.array([[row(0, 1, 2, 3, 4), row(2, 3)]] * 4))
    assert list(one_by_one(works, EVEN)) == []


def test_lone_works_need_no_numbers() -> None:
    works = np.array([[row(0, 1), row()], [row(), row(1, 2)], [row(0, 1), row()], [row(), row()]])
    assert list(one_by_one(works, EVEN)) == []


def test_the_overlap_expected_is_that_of_the_outline_that_fits_each_work_best() -> None:
    works = np.array([[row(0, 1), row(4, 5)], [row(0, 1, 2, 3), row()]])
    weight = np.array([0.5, 0.5])
    # The works of the first history overlap 1 and 0, that of the second 2 of 4 places.
    assert expected_overlap(works, weight, [row(0, 1)]) == pytest.approx((1 + 0 + 0.5) / 3)
    assert expected_overlap(works, weight, [row(0, 1), row(4, 5)]) == pytest.approx(2.5 / 3)
    assert expected_overlap(works, weight, []) == 0.0


def test_two_repairs_that_touch_are_outlined_one_by_one() -> None:
    # Two discs of 170 mm that touch, of 70 and 160 µm with a feather of 30 mm to either side,
    # read every 80 mm on a finish of 200 µm that is uneven by 3 µm.
    rng, middles = np.random.default_rng(4), (Point(300, 400), Point(640, 400))
    x, y = np.meshgrid(np.arange(40, 1000, 80), np.arange(40, 800, 80))
    at = np.column_stack([x.ravel(), y.ravel()]).astype(float)
    added = np.zeros(len(at))
    for middle, um in zip(middles, (70, 160), strict=True):
        away = np.hypot(at[:, 0] - middle.x, at[:, 1] - middle.y)
        added += um * np.clip((200 - away) / 60, 0, 1)
    names = ("a", "b", "c", "worked on")
    readings = tuple(
        Reading(panel=panel, spot=str(i), x_mm=p[0], y_mm=p[1], thickness_um=um, gauge="g")
        for panel in names
        for i, (p, um) in enumerate(
            zip(
                at,
                200 + 3 * rng.normal(size=len(at)) + added * (panel == "worked on"),
                strict=True,
            )
        )
    )
    panels = tuple(Panel(panel=p, outline=box(0, 0, 1000, 800)) for p in names)
    told = read_film(FilmSurvey(panels=panels, readings=readings)).panels[3]
    for middle in middles:
        true = middle.buffer(170)
        best = max(
            true.intersection(a.outline).area / true.union(a.outline).area for a in told.areas
        )
        assert best > 0.6
