"""The threshold at which an outline overlaps the likely areas most."""

import numpy as np

from asfound.measure.film.maps import outline_threshold


def test_where_histories_agree_any_threshold_below_one_will_do_and_the_usual_is_kept() -> None:
    local = np.zeros((5, 100), dtype=bool)
    local[:, 20:60] = True
    assert outline_threshold(np.full(5, 0.2), local) == 0.35


def test_the_threshold_maximises_the_mean_overlap() -> None:
    """Nested areas of 10, 20 … 100 places: the overlap by hand of every cut, the best chosen."""
    local = np.array([np.arange(100) < 10 * (k + 1) for k in range(10)])
    sizes = np.arange(10, 101, 10)
    cuts = {n: np.mean(np.minimum(n, sizes) / np.maximum(n, sizes)) for n in sizes}
    best = max(cuts, key=lambda n: cuts[n])
    drawn = (local.mean(axis=0) > outline_threshold(np.full(10, 0.1), local)).sum()
    assert drawn == best


def test_histories_without_local_work_count_for_where_but_not_for_how_large() -> None:
    local = np.zeros((10, 100), dtype=bool)
    local[:4, :50] = True  # work in four of ten, always the same place
    drawn = local.mean(axis=0) > outline_threshold(np.full(10, 0.1), local)
    assert drawn.sum() == 50


def test_no_local_work_at_all_keeps_the_usual_threshold() -> None:
    assert outline_threshold(np.ones(1), np.zeros((1, 7), dtype=bool)) == 0.35
